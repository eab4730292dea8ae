"""What does the desk look like: a dark workbench, a manila card on it, ink and stamps?

Contrast holds in 16 colours too, where manila turns to white or grey and ink to black; no colour means anything alone.
"""

from textual.theme import Theme

DESK = Theme(
    name="desk",
    primary="#e8c15a",
    secondary="#8fb0c4",
    warning="#e0a030",
    error="#e0604c",
    success="#8fbf7f",
    accent="#e8c15a",
    foreground="#efe6d2",
    background="#1d1a17",
    surface="#28231e",
    panel="#383028",
    dark=True,
    variables={
        "card": "#ead9a8",
        "card-row": "#f4e7c0",
        "card-rule": "#8a7444",
        "ink": "#1a1a1a",
        "ink-soft": "#4a4030",
        "ink-pass": "#0b4a2c",
        "ink-fail": "#8e1010",
        "ink-doubt": "#5a2a7a",
        "ink-struck": "#5a5040",
        "footer-key-foreground": "#e8c15a",
        "footer-background": "#28231e",
        "block-cursor-background": "#e8c15a",
        "block-cursor-foreground": "#1a1a1a",
        "block-cursor-blurred-background": "#383028",
        "input-cursor-background": "#efe6d2",
        "border": "#e8c15a",
    },
)

NIGHT = Theme(
    name="night desk",
    primary="#d0b060",
    secondary="#8fb0c4",
    warning="#e0a030",
    error="#e87464",
    success="#9fcf8f",
    accent="#d0b060",
    foreground="#e6dfce",
    background="#0e0d0c",
    surface="#171513",
    panel="#26221d",
    dark=True,
    variables={
        "card": "#221e17",
        "card-row": "#38301f",
        "card-rule": "#7a6a48",
        "ink": "#eee4c8",
        "ink-soft": "#b8ab8a",
        "ink-pass": "#a6dca0",
        "ink-fail": "#ff9a8a",
        "ink-doubt": "#d8b0f0",
        "ink-struck": "#9a9078",
        "footer-key-foreground": "#d0b060",
        "footer-background": "#171513",
        "block-cursor-background": "#d0b060",
        "block-cursor-foreground": "#0e0d0c",
        "block-cursor-blurred-background": "#26221d",
        "border": "#d0b060",
    },
)
THEMES = (DESK, NIGHT)
