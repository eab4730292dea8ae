"""What stands in bench.yaml on the first day?

Invented people and instruments that are good enough for the demo boards, with a word on each entry, so that a shop
replaces them by its own instead of starting from an empty page.
"""

from datetime import date, timedelta

FIRST_INTERVAL = timedelta(days=365)
"""The usual calibration interval of handheld meters; the shop's own certificates say the real day."""

FIRST_LETTER = "A"

_TEXT = """\
# The people and the instruments of this bench. passcheck wrote these examples once; replace them by your own.
# Edit by hand, or with 'passcheck bench …'; 'passcheck bench show' says how it is understood.

letter: {letter}                  # this bench's letter in job numbers; another bench of the shop takes another one
shop: The shop             # stands on the papers

# The id (up to 12 small letters and digits) is what the records show: initials or a staff number.
# role: technician, lead or second. hazardous_live: true only for whom the shop authorised for such work.
people:
  t1: {{name: Technician, role: technician}}
  t2: {{name: Second person, role: second}}
  l1: {{name: Lead, role: lead}}

# due: the day the calibration falls due; an overdue instrument takes no powered reading that counts.
# fills: the roles of the sequences that it serves in, each with the accuracy its maker states on the range used.
# withdrawn: true takes an instrument out of use and keeps its name for old records.
instruments:
  M1:
    title: Bench multimeter
    due: {due}
    fills:
      voltmeter: 0.1 % + 2 digits
      ohmmeter: 0.5 % + 2 digits
      ammeter: 0.5 % + 3 digits
  M2:
    title: Handheld multimeter
    due: {due}
    fills:
      voltmeter: 0.3 % + 3 digits
      ohmmeter: 1 % + 3 digits
      ammeter: 1 % + 3 digits
  S1:
    title: Bench supply, its own display
    due: {due}
    fills:
      supply-meter: 0.5 % + 5 mA
  O1:
    title: Oscilloscope
    due: {due}
    fills:
      scope: 2 % + 2 digits
  C1:
    title: Camera, 60 frames a second
    due: {due}
    fills:
      camera: ± 17 ms
  H1:
    title: Contact thermometer
    due: {due}
    fills:
      thermometer: ± 1 K
  K1:
    title: Reference clock
    due: {due}
    fills:
      reference-clock: ± 0.05 s
      timer: ± 0.05 s
  R1:
    title: Decade box
    due: {due}
    fills:
      decade-box: 0.5 % + 0.1 Ω
  L1:
    title: Meter for capacitance and ESR
    due: {due}
    fills:
      lcr-meter: 0.5 % + 3 digits

# What the tester is tried on before and after a unit is proved dead.
known_source:
  title: Proving cell, 12 V
  limits: 11 V .. 13 V

tones: true                # a tone for each verdict, for eyes that are on the probes

# Another key for something, by the name that the help screen gives it, such as
# keys: {{make-safe: f8}}
"""


def starter_text(day: date, letter: str = FIRST_LETTER) -> str:
    """bench.yaml as it is first written; every calibration falls due a year after `day`."""
    return _TEXT.format(due=(day + FIRST_INTERVAL).isoformat(), letter=letter)
