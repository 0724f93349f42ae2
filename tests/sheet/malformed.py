"""One valid sheet, and what a tired person makes of it: every case is one or a few edits away from it."""

from __future__ import annotations

from dataclasses import dataclass

BASE = """\
[about]
name = "Base"

[aircraft]
mass = "26 kg"
rotors = 6
layout = "flat"

[air]
altitude = "600 m"
temperature = "18 degC"
humidity = 0.6

[propeller]
blades = 2
diameter = "24 in"
pitch = "8 in"
folding = true
blade_mass = "34 g"
balance_point = "102 mm"
section = "naca4412"
widest_chord = "50 mm"
tip_chord = "20 mm"

[hub]
pivot_radius = "30 mm"
plate_thickness = "4 mm"
plate_material = "7075-T6"
plate_width = "20 mm"
plate_edge_distance = "12 mm"
plate_hole = "5 mm"
lug_thickness = "8 mm"
lug_width = "18 mm"
lug_edge_distance = "9 mm"
lug_hole = "5 mm"
bush_material = "C45"
bush_diameter = "7 mm"
lug_material = "carbon-woven"
gap = "0.05 mm"

[pivot_screw]
thread = "M5"
class = "8.8"
head = "socket"
nut = "locking"
washers = true
torque = "0.9 N*m"
prevailing_torque = "0.4 N*m"
lubrication = "dry"

[tie_screws]
count = 2
thread = "M3"
distance = "18 mm"

[mounting_screws]
count = 4
thread = "M4"
class = "8.8"
bolt_circle = "25 mm"

[flying]
used_thrust = "4.6 kgf"
load_factor = 1.6
temperature_min = "-8 degC"
temperature_max = "34 degC"

[[flying.case]]
name = "snatch"
thrust = "5 kgf"

[[flying.case]]
name = "drop"
thrust = "4 kgf"
"""

_STATION = '[[propeller.station]]\nat = {}\nchord = "40 mm"\ntwist = "12 deg"\n\n[hub]\n'
_SHARE = '[[flying.segment]]\nname = "{}"\nshare = {}\n\n'


@dataclass(frozen=True)
class Case:
    """A malformed sheet: edits to BASE, the key that is reported, where it stands, and what is said.

    at - a text on the line that must be named; "" is where the first edit begins, None is no line at all.
    """

    name: str
    edits: tuple[tuple[str, str], ...]
    key: str
    at: str | None
    says: tuple[str, ...]

    @property
    def text(self) -> str:
        """The sheet after the edits, each of which must hit exactly one place."""
        text = BASE
        for old, new in self.edits:
            assert text.count(old) == 1, f"{self.name}: {old!r} stands {text.count(old)} times"
            text = text.replace(old, new)
        return text

    @property
    def line(self) -> int | None:
        """The number of the line that must be named."""
        if self.at is None:
            return None
        if not self.at:
            return BASE[: BASE.index(self.edits[0][0])].count("\n") + 1
        assert self.text.count(self.at) == 1, f"{self.name}: {self.at!r} is not unique"
        return self.text[: self.text.index(self.at)].count("\n") + 1


def one(name: str, old: str, new: str, key: str, *says: str, at: str | None = "") -> Case:
    """A case of a single edit."""
    return Case(name, ((old, new),), key, at, says)


def stations(*places: float) -> str:
    """The tables of measured stations, with the header that follows them in BASE."""
    return "".join(_STATION.removesuffix("[hub]\n").format(place) for place in places) + "[hub]\n"


UNITS = [
    one("mass as thrust", 'mass = "26 kg"', 'mass = "26 kgf"', "aircraft.mass", "kgf is a unit of force"),
    one("thrust in grams", '"4.6 kgf"', '"4600 g"', "flying.used_thrust", "g is a unit of mass", "gf"),
    one("bare number", '"600 m"', "600", "air.altitude", "the bare number 600", "needs a unit", "mm, cm, m"),
    one("unit left out", '"24 in"', '"24"', "propeller.diameter", "the unit is missing", "mm, cm, m, um, in"),
    one("unknown unit", '"30 mm"', '"30 mmm"', "hub.pivot_radius", 'read "30 mmm"', "nearest: mm"),
    one("decimal comma", '"0.05 mm"', '"0,05 mm"', "hub.gap", 'read "0,05 mm"', 'as in "0.05 mm"'),
    one("screw number as size", '"8 mm"', '"10-32"', "hub.lug_thickness", 'read "10-32"', "one number"),
    one(
        "two numbers", '"26 kg"', '"1 500 kg"', "aircraft.mass", 'read "1 500 kg"', "one number and one unit"
    ),
    one("digits of another script", '"34 g"', '"٣٤ g"', "propeller.blade_mass", "one number and one unit"),
    one("not a number", '"102 mm"', '"nan mm"', "propeller.balance_point", 'read "nan mm"', "one number"),
    one("infinite", '"102 mm"', '"inf mm"', "propeller.balance_point", 'read "inf mm"', "one number"),
    one("beyond all numbers", '"34 g"', '"1e999 g"', "propeller.blade_mass", "too large"),
    one("nan as a ratio", "humidity = 0.6", "humidity = nan", "air.humidity", "read nan", "finite"),
    one("infinite ratio", "load_factor = 1.6", "load_factor = inf", "flying.load_factor", "read inf"),
    one("huge whole ratio", "= 0.6", f"= 1{'0' * 400}", "air.humidity", "more than 60 digits", "finite"),
    one("huge bare number", '"26 kg"', f"1{'0' * 4000}", "aircraft.mass", "more than 60 digits", "a unit"),
    one("huge hexadecimal", "rotors = 6", f"rotors = 0x1{'0' * 4000}", "aircraft.rotors", "60 digits"),
    one("ratio with a unit", "humidity = 0.6", 'humidity = "0.6 mm"', "air.humidity", "a pure ratio", "50 %"),
    one("below absolute zero", '"-8 degC"', '"-300 degC"', "flying.temperature_min", "below absolute zero"),
    one("a very long text", '"0.05 mm"', f'"0.05 {"m" * 5000}"', "hub.gap", "mmm...", "one number"),
    one("a date", '"26 kg"', "2024-05-01", "aircraft.mass", "read 2024-05-01", "text with a unit"),
    one("a list as value", '"26 kg"', '["26 kg"]', "aircraft.mass", "read a list", "text with a unit"),
    one("a table as value", '"26 kg"', '{ value = "26 kg" }', "aircraft.mass", "read a table"),
    one("true for a quantity", '"26 kg"', "true", "aircraft.mass", "read true", "text with a unit"),
]

BOUNDS = [
    one("negative mass", '"34 g"', '"-34 g"', "propeller.blade_mass", 'read "-34 g"', "> 0 g and <= 20000 g"),
    one("diameter in metres", '"24 in"', '"24 m"', "propeller.diameter", "> 0 in and <= 120 in"),
    one("humidity in percent", "= 0.6", "= 60", "air.humidity", 'read "60"', ">= 0 and <= 1"),
    one("no blades", "blades = 2", "blades = 0", "propeller.blades", "read 0", "from 2 to 8"),
    one("half a rotor", "rotors = 6", "rotors = 6.0", "aircraft.rotors", "read 6.0", "whole number"),
    one("a count as text", "rotors = 6", 'rotors = "6"', "aircraft.rotors", 'read "6"', "whole number"),
    one("true for a count", "blades = 2", "blades = true", "propeller.blades", "read true", "whole number"),
]

WORDS = [
    one("true for a text", '"Base"', "true", "about.name", "read true", "a text in quotes"),
    one("empty name", '"Base"', '""', "about.name", "the text is empty"),
    one("endless name", '"Base"', f'"{"a" * 501}"', "about.name", "aaa...", "at most 500 characters"),
    one("terminal codes", '"Base"', r'"\u001b[2J\u0007"', "about.name", 'read "?[2J?"', "control characters"),
    one("right to left", '"Base"', r'"safe\u202eelif"', "about.name", "no control characters"),
    one("two lines of name", '"Base"', '"""Base\nmore"""', "about.name", "one line of text"),
    one("text for a truth", "folding = true", 'folding = "true"', "propeller.folding", "without quotes"),
    one(
        "class as number",
        'class = "8.8"\nhead',
        "class = 8.8\nhead",
        "pivot_screw.class",
        "read 8.8",
        "quotes",
    ),
    one(
        "unknown class",
        'class = "8.8"\nhead',
        'class = "8.9"\nhead',
        "pivot_screw.class",
        "did you mean 8.8?",
    ),
    one("unknown thread", 'thread = "M5"', 'thread = "M55"', "pivot_screw.thread", "did you mean M5?", "M10"),
    one("thread as number", 'thread = "M5"', "thread = 5", "pivot_screw.thread", "read 5", "M2.5, M3"),
    one(
        "unknown material", '"7075-T6"', '"7075T6"', "hub.plate_material", "did you mean 7075-T6?", "6061-T6"
    ),
    one("unknown bush", '"C45"', '"C54"', "hub.bush_material", 'read "C54"', "did you mean C45?"),
    one("unknown section", '"naca4412"', '"naca4421"', "propeller.section", "did you mean naca44", "known:"),
    one("unknown nut", '"locking"', '"nylock"', "pivot_screw.nut", 'read "nylock"', "locking", "tapped"),
    one("unknown head", '"socket"', '"sockett"', "pivot_screw.head", "did you mean socket?", "hexagon"),
    one("unknown lubrication", '"dry"', '"lubricate"', "pivot_screw.lubrication", "mean lubricated?", "dry"),
    one("unknown layout", '"flat"', '"flatt"', "aircraft.layout", "did you mean flat?", "coaxial, custom"),
]

KEYS = [
    one("misspelt key", "blade_mass =", "blade_mas =", "propeller.blade_mas", "did you mean blade_mass?"),
    one("shouted key", "gap =", "GAP =", "hub.GAP", "did you mean gap?"),
    one(
        "unlike any key", "gap =", "qqq =", "hub.qqq", "no such key; allowed keys: maker, part, pivot_radius"
    ),
    one("misspelt table", "[tie_screws]", "[tie_screw]", "tie_screw", "did you mean tie_screws?"),
    one("unlike any table", "[tie_screws]", "[xyz]", "xyz", "no such key; allowed tables: about, aircraft"),
    one(
        "key of another table",
        'gap = "0',
        'tap_frequency = "0',
        "hub.tap_frequency",
        "in [propeller] or [arm]",
    ),
    one("key above all tables", "[about]", "gap = 1\n[about]", "gap", "it belongs in [hub]"),
    one("key that hides codes", 'gap = "0', r'"\u001b[31m" = "0', 'hub."?[31m"', "no such key"),
    Case(
        "missing key", (('diameter = "24 in"\n', ""),), "propeller.diameter", "[propeller]", ("is missing",)
    ),
    Case(
        "key missing in a list",
        (('thrust = "4 kgf"\n', ""),),
        "flying.case[2].thrust",
        '[[flying.case]]\nname = "drop"',
        ("is missing; write thrust =",),
    ),
    Case(
        "missing table",
        (('[mounting_screws]\ncount = 4\nthread = "M4"\nclass = "8.8"\nbolt_circle = "25 mm"\n', ""),),
        "mounting_screws",
        None,
        ("the table [mounting_screws] is missing",),
    ),
    one("list for a table", "[hub]", "[[hub]]", "hub", "read a list", "under a header [hub]"),
    Case(
        "table for a list",
        (
            ('[[flying.case]]\nname = "snatch"\nthrust = "5 kgf"\n\n', ""),
            ("[[flying.case]]", "[flying.case]"),
        ),
        "flying.case",
        "[flying.case]",
        ("read a table", "under a header [[flying.case]]"),
    ),
    one("word for a table", "[about]", "battery = 7\n[about]", "battery", "read 7", "header [battery]"),
    one("number in a list", "[hub]", "station = [7]\n[hub]", "propeller.station[1]", "[[propeller.station]]"),
    one("own class unnamed", "[about]", "classes = 7\n[about]", "classes", 'header [classes."a name"]'),
    Case(
        "own class incomplete",
        (("[flying]", '[classes."x"]\nyield = "500 MPa"\nsource = "here"\n\n[flying]'),),
        "classes.x.ultimate",
        '[classes."x"]',
        ("is missing; write ultimate =",),
    ),
    Case(
        "own class with codes for a name",
        (("[flying]", '[classes."\\u001b"]\nultimate = "9 MPa"\nyield = "5 MPa"\nsource = "x"\n\n[flying]'),),
        'classes."?"',
        '[classes."\\u001b"]',
        ("no control characters",),
    ),
]

FIT = [
    one("hole under the screw", 'plate_hole = "5 mm"', 'plate_hole = "4 mm"', "hub.plate_hole", "5 mm"),
    one(
        "hole in lug too small",
        'lug_hole = "5 mm"',
        'lug_hole = "4 mm"',
        "hub.lug_hole",
        "4 mm does not admit",
    ),
    one(
        "bush wider than lug", 'lug_width = "18 mm"', 'lug_width = "6 mm"', "hub.lug_width", "leaves nothing"
    ),
    one(
        "plate hole too wide",
        'plate_hole = "5 mm"',
        'plate_hole = "21 mm"',
        "hub.plate_width",
        "21 mm",
        at="plate_width =",
    ),
    one(
        "bush out of the end",
        '_distance = "9 mm"',
        '_distance = "3 mm"',
        "hub.lug_edge_distance",
        "breaks out",
    ),
    one(
        "contact within the hole",
        "gap =",
        'contact_length = "5 mm"\ngap =',
        "hub.contact_length",
        "within the hole",
    ),
    one("bush inside its hole", '"7 mm"', '"5 mm"', "hub.bush_diameter", "not larger than the hole in it"),
    one("pivot beyond the tip", '"30 mm"', '"330 mm"', "hub.pivot_radius", "330 mm", "half", "305 mm"),
    one("balance beyond the tip", '"102 mm"', '"290 mm"', "propeller.balance_point", "beyond the blade tip"),
    one(
        "widest chord inboard",
        "widest_chord",
        "widest_at = 0.05\nwidest_chord",
        "propeller.widest_at",
        "0.10",
    ),
    one("tip wider than all", 'tip_chord = "20 mm"', 'tip_chord = "60 mm"', "propeller.tip_chord", "50 mm"),
    one(
        "stations inward",
        "[hub]\n",
        stations(0.2, 0.5, 0.4, 0.9),
        "propeller.station[3].at",
        "0.5",
        at="= 0.4\n",
    ),
    one("three stations", "[hub]\n", stations(0.2, 0.5, 0.9), "propeller.station", "at least 4 stations"),
    one(
        "two temperatures",
        "humidity",
        'temperature_offset = "5 K"\nhumidity',
        "air.temperature_offset",
        "not both",
    ),
    one(
        "cold above warm", '"-8 degC"', '"38 degC"', "flying.temperature_min", "38 degC is warmer", "34 degC"
    ),
    Case(
        "cold above the assumed",
        (('"-8 degC"', '"50 degC"'), ('temperature_max = "34 degC"\n', "")),
        "flying.temperature_min",
        "",
        ("50 degC is warmer than temperature_max (40 degC, assumed)",),
    ),
    one("ties without thread", 'thread = "M3"\n', "", "tie_screws.count", "need a thread", at="count = 2"),
    one("ties beyond the axis", '"18 mm"\n\n[mou', '"31 mm"\n\n[mou', "tie_screws.distance", "pivot_radius"),
    one(
        "nothing left to clamp", '"0.4 N*m"', '"0.9 N*m"', "pivot_screw.prevailing_torque", "nothing is left"
    ),
    one("tapped without length", '"locking"', '"tapped"', "pivot_screw.nut", "needs engagement"),
    one("circlip without rating", '"locking"', '"circlip"', "pivot_screw.nut", "needs circlip_load"),
    one(
        "circlip cannot be tightened",
        'nut = "locking"',
        'nut = "circlip"\ncirclip_load = "2 kN"',
        "pivot_screw.torque",
        "cannot be tightened",
        at='torque = "0.9 N*m"\nprevailing',
    ),
    one(
        "screw too short for its hub",
        'thread = "M5"',
        'length = "16 mm"\nthread = "M5"',
        "pivot_screw.length",
        "does not reach through",
        "18.1 mm",
    ),
    one(
        "spring rate as force",
        'nut = "locking"',
        'spring_washer_rate = "800 N"\nnut = "locking"',
        "pivot_screw.spring_washer_rate",
        "N/mm",
    ),
    one(
        "unknown way of locking",
        'nut = "locking"',
        'locking = "threadlock"\nnut = "locking"',
        "pivot_screw.locking",
        "did you mean thread-lock?",
    ),
    Case(
        "coaxial with five",
        (("rotors = 6", "rotors = 5"), ('"flat"', '"coaxial"')),
        "aircraft.rotors",
        "",
        ("5 rotors cannot stand in coaxial pairs",),
    ),
    one("custom without places", '"flat"', '"custom"', "aircraft.rotors", "0 tables", at="rotors = 6"),
    one("two cases of one name", '"drop"', '"snatch"', "flying.case[2].name", 'two cases called "snatch"'),
    Case(
        "shares that do not add up",
        (
            (
                '[[flying.case]]\nname = "snatch"',
                _SHARE.format("a", 0.5) + _SHARE.format("b", 0.4) + '[[flying.case]]\nname = "snatch"',
            ),
        ),
        "flying.segment",
        "",
        ("add up to 0.900, not to 1",),
    ),
]

SYNTAX = [
    one("key twice", 'mass = "26 kg"', 'mass = "26 kg"\nmass = "27 kg"', "", "overwrite", at='"27 kg"'),
    one("no equals sign", 'gap = "0.05 mm"', "gap 0.05 mm", "", "not valid TOML", 'read "gap 0.05 mm"'),
    one("quote left open", '"0.05 mm"', '"0.05 mm', "", "not valid TOML", "0.05 mm"),
    one("value without quotes", '"0.05 mm"', "0.05 mm", "", "not valid TOML", 'read "gap = 0.05 mm"'),
    one("table twice", "[tie_screws]", "[hub]", "", "twice", 'read "[hub]"'),
    one("endless number", "= 0.6", f"= 1{'0' * 5000}", "", "too many digits"),
    one("deep key", "gap =", f"gap.{'a.' * 3000}a =", "", "more than 12 parts"),
    one("NUL", '"Base"', '"Ba\0se"', "", "not valid TOML", 'read "name = "Ba?se""'),
    Case("list left open", (('"0.05 mm"', "[ 1,"),), "", "[pivot_screw]", ("not valid TOML",)),
    Case("deep list", (('"0.05 mm"', "[" * 5000 + "]" * 5000),), "", None, ("nested too deeply",)),
]

CASES = [*UNITS, *BOUNDS, *WORDS, *KEYS, *FIT, *SYNTAX]
