"""How are the properties tried: the same examples for everybody, or new ones for whoever goes looking?"""

import os

from hypothesis import settings

# A check that decides must decide the same twice; PASSCHECK_EXPLORE=1 draws new examples each time.
settings.register_profile("same for everybody", derandomize=True)
settings.register_profile("explore", derandomize=False, print_blob=True)
settings.load_profile("explore" if os.environ.get("PASSCHECK_EXPLORE") else "same for everybody")
