"""All strategies: lots as job documents, lengths as people write them, and nonsense."""

import random
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st
from independent import GRAVITY, INCH, length

F = Fraction


# What planers and shops have, by unit. Steps and cuts that do not divide each other are among them on purpose.
CHOICES = {
    "in": {
        "step": [F(1, 64), F(1, 64), F(1, 32), F(1, 128), F(1, 100)],
        "finish_cut": [F(1, 32), F(1, 64), F(3, 128), F(1, 50)],
        "lightest_cut": [F(1, 64), F(1, 128), F(1, 32), F(1, 50)],
        "cut": [F(1, 16), F(1, 32), F(3, 64), F(3, 32), F(7, 100)],
        "deepest_cut": [F(1, 8), F(1, 16), F(5, 64)],
        "target": [F(3, 4), F(7, 8), F(1), F(25, 32), F(77, 100)],
        "near": [F(0), F(1, 64), F(1, 16), F(1, 8)],
        "turn": [F(1, 16), F(1, 8), F(1, 10), F(3, 32)],
        "width": [F(2), F(3), F(4), F(11, 2), F(6), F(8), F(12)],
        "length": [F(12), F(24), F(49), F(72), F(385, 4)],
        "depth": [F(1, 64), F(1, 32), F(1, 16), F(1, 8)],
        "feed": ["10 ft/min", "16 ft/min", "20 ft/min", "28 ft/min", "7.5 m/min"],
    },
    "mm": {
        "step": [F(1, 10), F(1, 20), F(1, 4), F(1, 2), F(3, 10)],
        "finish_cut": [F(4, 5), F(1, 2), F(2, 5), F(1)],
        "lightest_cut": [F(2, 5), F(1, 2), F(1, 5), F(1)],
        "cut": [F(3, 2), F(1), F(2), F(7, 10)],
        "deepest_cut": [F(3), F(2), F(3, 2)],
        "target": [F(20), F(18), F(22), F(193, 10)],
        "near": [F(0), F(1, 2), F(3, 2), F(3)],
        "turn": [F(1), F(2), F(3, 2), F(5, 4)],
        "width": [F(50), F(75), F(100), F(140), F(150), F(200), F(300)],
        "length": [F(300), F(600), F(1245), F(1800), F(2440)],
        "depth": [F(2, 5), F(1, 2), F(1), F(3)],
        "feed": ["4 m/min", "6 m/min", "8 m/min", "12 m/min", "20 ft/min"],
    },
}
SECONDS = {
    "set_seconds": [20, 0, 5, 60, 12.5],
    "handle_seconds": [8, 0, 3, 20],
    "measure_seconds": [30, 0, 10, 90],
}
SPECIES = [None, *GRAVITY]


def decimal(value: Fraction) -> str:
    """A finite decimal, in full."""
    digits = 0
    while (value * 10**digits).denominator != 1:
        digits += 1
        assert digits < 60, "no finite decimal"
    whole = str(abs(int(value * 10**digits))).rjust(digits + 1, "0")
    text = f"{whole[: len(whole) - digits]}.{whole[len(whole) - digits :]}".rstrip(".")
    return f"-{text}" if value < 0 else text


def mixed(value: Fraction) -> str:
    """Whole inches and a fraction."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


def written(value: Fraction, units: str, style: int) -> object:
    """A length as somebody may have put it into a document, always exact."""
    on_ruler = units == "in" and value.denominator in (1, 2, 4, 8, 16, 32, 64)
    if style == 1:
        return f"{decimal(value)} {units}"
    if style == 2 and on_ruler:
        return str(value)
    if style == 3:
        exact = float(decimal(value))
        return exact if F(repr(exact)) == value else decimal(value)
    if style == 4 and units == "in":
        return f"{decimal(value * INCH)} mm"
    return mixed(value) if on_ruler else decimal(value)


Pick = Callable[[Sequence], Any]


def boards(pick: Pick, units: str, target: Fraction, finish_cut: Fraction, step: Fraction, top: int) -> list[dict]:
    """Up to four boards, thick spots from below the target to `top` steps above the last fixed rough setting."""
    start = target + 2 * finish_cut
    low = [target - step, target, target + step / 2, target + finish_cut, start, start - step / 4]
    choices = CHOICES[units]
    made = []
    for name in "ABCD"[: pick([1, 2, 3, 4])]:
        high = top > 0 and pick([True, True, True, False])
        spot = start + (pick(range(top + 1)) + pick([0, 0, F(1, 2), F(1, 4)])) * step if high else pick(low)
        thin = spot - step * pick([0, F(1, 2), 1, 2, 3, 5, 8])
        board = {
            "name": name,
            "readings": pick([[spot, thin], [thin, spot], [thin, spot, thin], [spot, thin, spot]]),
            "width": pick(choices["width"]),
            "length": pick(choices["length"]),
        }
        count = pick([None, None, 1, 2, 7])
        species = pick(SPECIES)
        made.append(board | ({"count": count} if count else {}) | ({"species": species} if species else {}))
    return made


def small_job(pick: Pick, units: str | None = None, full: bool = False, most_free: int = 12) -> dict:
    """A job without a mistake, small enough to try every plan. A full one leaves nothing to the defaults."""
    units = units or pick(["in", "mm"])
    choices = CHOICES[units]
    plain_planer = not full and pick(range(8)) == 0
    plain_practice = not full and pick(range(8)) == 0
    usual = {"in": (F(1, 64), F(1, 64), F(1, 32)), "mm": (F(2, 5), F(1, 10), F(4, 5))}[units]
    lightest, step = usual[:2] if plain_planer else (pick(choices["lightest_cut"]), pick(choices["step"]))
    finish_cut = usual[2] if plain_practice else pick(choices["finish_cut"])
    if finish_cut < lightest and not plain_practice and pick(range(4)):
        finish_cut = lightest
    target = pick(choices["target"])
    most = most_free if lightest < 2 * step else most_free * 3 // 2 if lightest < 4 * step else most_free * 5 // 2
    top = pick(range(-1, most + 1)) if pick([True, False]) else pick(range(most // 2, most + 1))
    job = {
        "thickset": 1,
        "units": units,
        "target": {"thickness": target},
        "boards": boards(pick, units, target, finish_cut, step, top),
    }
    feeds = list(dict.fromkeys(pick(choices["feed"]) for _ in range(pick([1, 2, 3]))))
    if not plain_planer:
        job["planer"] = {
            "step": step,
            "lightest_cut": lightest,
            "deepest_cut": pick(choices["deepest_cut"]),
            "feeds": feeds,
        }
        if full or pick([True, False]):
            job["planer"]["turn"] = pick(choices["turn"])
        if pick([True, False]):
            knives = pick([1, 2, 3, 4])
            speed = f"{pick([3000, 3840, 4800, 5000, 8000])} rpm"
            job["planer"]["head"] = {"speed": speed, "knives": knives, "marking_knives": pick(range(1, knives + 1))}
        if pick([True, False]):
            known = {"width": pick(choices["width"]), "depth": pick(choices["depth"]), "feed": pick(feeds)}
            species = pick(SPECIES)
            job["planer"]["known_cut"] = known | ({"species": species} if species else {})
    if not plain_practice:
        job["practice"] = {
            "cut": pick(choices["cut"]) if pick([True, False]) else max(finish_cut, lightest),
            "finish_cut": finish_cut,
            "near": pick(choices["near"]),
            "rough_marks": pick([10, 4, 16]),
            "finish_marks": pick([20, 8, 40]),
            **{key: pick(values) for key, values in SECONDS.items()},
        }
    if not (plain_planer or plain_practice) and pick(range(12)) == 0:
        _tie_slow_and_fast(pick, job, units)
    style = pick(range(5))
    return put_down(job, lambda value: written(value, units, style))


def _tie_slow_and_fast(pick: Pick, job: dict, units: str) -> None:
    """One deep pass at the slow feed now takes as long as two light ones at twice the feed, so that passes decide."""
    planer, practice = job["planer"], job["practice"]
    planer["feeds"] = {"in": ["10 ft/min", "20 ft/min"], "mm": ["4 m/min", "8 m/min"]}[units]
    planer.pop("head", None)
    planer["known_cut"] = {
        "width": max(board["width"] for board in job["boards"]),
        "depth": practice["cut"] * pick([F(1, 2), F(1, 2), F(3, 4)]),
        "feed": planer["feeds"][1],
    }
    practice |= {"set_seconds": 0, "handle_seconds": 0, "near": F(0), "measure_seconds": 0}


@st.composite
def jobs(draw: st.DrawFn, full: bool = False, most_free: int = 12) -> dict:
    """Small jobs without a mistake, that hypothesis makes smaller when a test fails."""
    return small_job(lambda options: draw(st.sampled_from(options)), full=full, most_free=most_free)


def job_by_chance(seed: int) -> dict:
    """One of them by chance, which is several times as quick."""
    return small_job(random.Random(seed).choice)


def put_down(part: object, write: object) -> object:
    """The document with each exact number written out."""
    if isinstance(part, dict):
        return {key: put_down(value, write) for key, value in part.items()}
    if isinstance(part, list):
        return [put_down(value, write) for value in part]
    return write(part) if isinstance(part, Fraction) else part


LENGTHS = {
    "thickness", "tolerance", "readings", "width", "length", "deepest_cut", "lightest_cut", "step", "turn", "widest",
    "shortest", "thinnest", "diameter", "depth", "lead", "trail", "cut", "finish_cut", "near",
}  # fmt: skip


def in_other_units(job: dict) -> dict:
    """The same job with each length written in the other unit, exactly; no defaults may be in it."""
    units = job["units"]

    def over(part: object, is_length: bool = False) -> object:
        if isinstance(part, dict):
            return {key: over(value, key in LENGTHS) for key, value in part.items()}
        if isinstance(part, list):
            return [over(value, is_length) for value in part]
        if not is_length:
            return part
        text = decimal(length(part, units))
        return text if units == "in" else f"{text} mm"

    return {**over(job), "units": "mm" if units == "in" else "in"}


def large_job(seed: int, units: str, count: int, over: Fraction) -> dict:
    """A lot of many boards, the thickest `over` (of its unit) above the target, all else by chance."""
    chance = random.Random(seed)
    choices = CHOICES[units]
    job: dict = {"thickset": 1, "units": units, "target": {"thickness": chance.choice(choices["target"])}}
    fine = F(1, 128) if units == "in" else F(1, 10)
    made = []
    for i in range(count):
        spot = job["target"]["thickness"] + (over if i == 0 else chance.randint(0, int(over / fine)) * fine)
        board = {
            "name": f"{i + 1}",
            "readings": [spot, spot - chance.randint(0, 12) * fine],
            "width": chance.choice(choices["width"]),
            "length": chance.choice(choices["length"]),
            "count": chance.choice([1, 1, 1, 2, 5]),
        }
        species = chance.choice(SPECIES)
        made.append(board | ({"species": species} if species else {}))
    chance.shuffle(made)
    job["boards"] = made
    feeds = chance.sample(choices["feed"], chance.randint(1, 3))
    job["planer"] = {key: chance.choice(choices[key]) for key in ("lightest_cut", "step", "deepest_cut")}
    if job["planer"]["step"] in (F(1, 128), F(1, 20)):  # a scale so fine takes the mixed-integer model long
        job["planer"]["step"] *= 2
    job["planer"]["feeds"] = feeds
    if chance.random() < 0.5:
        job["planer"]["head"] = {"speed": "5000 rpm", "knives": 3, "marking_knives": chance.randint(1, 3)}
    if chance.random() < 0.6:
        known = {"width": choices["width"][-1], "depth": chance.choice(choices["depth"][1:]), "feed": max(feeds)}
        job["planer"]["known_cut"] = known | {"species": chance.choice(list(GRAVITY))}
    job["practice"] = {key: chance.choice(choices[key]) for key in ("cut", "finish_cut", "near")}
    job["practice"] |= {key: chance.choice(values) for key, values in SECONDS.items()}
    style = chance.randint(0, 4)
    return put_down(job, lambda value: written(value, units, style))


def large_jobs(most_boards: int = 60) -> st.SearchStrategy[dict]:
    return st.builds(
        lambda seed, lot, count: large_job(seed, lot[0], count, lot[1]),
        st.integers(0, 2**32),
        st.sampled_from([("in", F(3, 8)), ("in", F(5, 8)), ("in", F(47, 64)), ("mm", F(9)), ("mm", F(12))]),
        st.integers(5, most_boards),
    )


# Nonsense: what no length can be, and what no length that must be there can be.
NO_LENGTH = [
    "1/0", "3//4", "--1", "1 3", "1e999", "1e5", "9" * 5000, "abc", "-3", "- 3/4", "1/2/3", "1.2.3", "nan", "inf",
    "Infinity", "2 kg", "5 min", "3 mm mm", "1 3/", "/4", "1 / / 2", "0x10", "1_000", "1 1/2 1/4", "½½", "1/2½", ".",
    ",", "mm", "in", "1;2", "<b>1</b>", "1 3/32 in 4", "2 in²", "٣//٤", "\u0000", "0", "0/4", "1/99999999", 0, -1, -0.5,
    True, False, [], {}, ["1"], {"mm": 3}, [[1]],
]  # fmt: skip
NOTHING = ["", " ", "\t", None]

json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=12)
    | st.sampled_from(NO_LENGTH),
    lambda inside: st.lists(inside, max_size=3) | st.dictionaries(st.text(max_size=8), inside, max_size=3),
    max_leaves=6,
)


def places(job: object, at: tuple = ()) -> list[tuple]:
    """Every place of a document that holds something, as keys from the top."""
    if isinstance(job, dict):
        inside = [place for key, value in job.items() for place in places(value, (*at, key))]
    elif isinstance(job, list):
        inside = [place for n, value in enumerate(job) for place in places(value, (*at, n))]
    else:
        inside = []
    return [*([at] if at else []), *inside]


def named(at: tuple) -> str:
    """A place as problems name it: boards[0].readings[1]."""
    text = "".join(f"[{key}]" if isinstance(key, int) else f".{key}" for key in at)
    return text.removeprefix(".")


def holds_length(at: tuple) -> bool:
    key = at[-2] if isinstance(at[-1], int) and len(at) > 1 else at[-1]
    return key in LENGTHS and (key == "readings") == isinstance(at[-1], int)


def replaced(job: object, at: tuple, value: object) -> object:
    """The document with another value at one place."""
    if not at:
        return value
    copy = dict(job) if isinstance(job, dict) else list(job)
    copy[at[0]] = replaced(copy[at[0]], at[1:], value)
    return copy


@st.composite
def spoiled_jobs(draw: st.DrawFn) -> tuple[dict, str, object]:
    """A job with one length made nonsense, the place of it, and the nonsense."""
    job = draw(jobs(most_free=4))
    at = draw(st.sampled_from([place for place in places(job) if holds_length(place)]))
    needed = at[-1] in ("thickness", "width", "length") or isinstance(at[-1], int)
    bad = draw(st.sampled_from(NO_LENGTH + (NOTHING if needed else [])))
    if named(at) == "practice.near" and bad in ("0", "0/4", 0):
        bad = "nothing"
    return replaced(job, at, bad), named(at), bad


@st.composite
def mangled_jobs(draw: st.DrawFn) -> dict:
    """A job with anything at one to three places of it."""
    job = draw(jobs(most_free=4))
    for _ in range(draw(st.integers(1, 3))):
        job = replaced(job, draw(st.sampled_from(places(job))), draw(json_values))
        if not isinstance(job, dict):
            break
    return job


# Lengths as exact fractions of a millimetre: on the marks of a rule, in decimals, and any fraction at all.
exact_lengths = st.one_of(
    st.builds(lambda n: n * INCH / 64, st.integers(1, 64 * 400)),
    st.builds(lambda n: n * INCH / 1024, st.integers(1, 1024 * 4)),
    st.builds(lambda n: F(n, 1000), st.integers(1, 10**7)),
    st.builds(lambda n: n * INCH / 10**5, st.integers(1, 10**8)),
    st.fractions(F(1, 1000), 10000, max_denominator=1024),
)


@st.composite
def typed_lengths(draw: st.DrawFn) -> tuple[str, str, Fraction]:
    """A length as people type it, the unit it is typed in when it names none, and how many mm it is."""
    bottom = draw(st.sampled_from([2, 4, 8, 16, 32, 64]))
    whole, top = draw(st.integers(0, 40)), draw(st.integers(1, bottom - 1))
    value = whole + F(top, bottom)
    quarter = {F(1, 4): "¼", F(1, 2): "½", F(3, 4): "¾", F(1, 8): "⅛", F(3, 8): "⅜", F(5, 8): "⅝", F(7, 8): "⅞"}
    forms = [
        f"{whole} {top}/{bottom}",
        f"{whole}-{top}/{bottom}",
        f"{whole} - {top} / {bottom}",
        f"{whole * bottom + top}/{bottom}",
        decimal(value),
        decimal(value).replace(".", ","),
        decimal(value).removeprefix("0"),
    ]
    if F(top, bottom) in quarter:
        sign = quarter[F(top, bottom)]
        forms += [f"{whole} {sign}", f"{whole}{sign}"] + ([sign] if not whole else [])
    text = draw(st.sampled_from(forms))
    units = draw(st.sampled_from(["in", "mm"]))
    given = {
        "": INCH if units == "in" else F(1),
        '"': INCH, " ″": INCH, " in": INCH, "in": INCH, " inches": INCH,
        "mm": F(1), " mm": F(1), " cm": F(10), " m": F(1000),
    }  # fmt: skip
    unit = draw(st.sampled_from(list(given)))
    space = draw(st.sampled_from(["", " ", "  "]))
    return f"{space}{text}{unit}{space}", units, value * given[unit]


_SIGNS = "=+-@\t'\",;＝＠ aA1½/.é板"


def hostile_names() -> st.SearchStrategy[str]:
    """Names that a spreadsheet might take for something else."""
    return st.text(_SIGNS.replace("\t", ""), min_size=1, max_size=8).filter(str.strip)


def cells() -> st.SearchStrategy[str]:
    """Whatever may stand in a cell of a table."""
    return st.one_of(
        st.text(_SIGNS + "\n\r", max_size=8), st.text(max_size=6), st.sampled_from(["27,8", "1 3/32", "3/4"])
    )


def table_texts() -> st.SearchStrategy[str]:
    """Texts that are a table, or nearly."""
    part = st.one_of(
        cells(), st.sampled_from([",", ";", "\t", "\n", "\r\n", '"', "Width (mm)", "Board", "\ufeff", "\0"])
    )
    return st.lists(part, max_size=30).map("".join)


def between(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers for the trade's formulas, ends included."""
    return st.floats(low, high, allow_nan=False)


def exact(low: int, high: int) -> st.SearchStrategy[Fraction]:
    """The same as fractions."""
    return st.fractions(low, high, max_denominator=128)


def any_number() -> st.SearchStrategy[float]:
    """Whatever a field may be given: sensible, absurd, none at all."""
    odd = st.sampled_from([0.0, -0.0, -1.0, 1e-12, 1e12, 1e300, 5e-324, float("nan"), float("inf"), float("-inf")])
    return st.one_of(st.floats(0.01, 1000), st.floats(), odd)


def resting_job(seed: int) -> dict:
    """One of the small jobs by chance, with something left for after a rest."""
    pick = random.Random(seed).choice
    job = small_job(pick)
    units = job["units"]
    left = pick({"in": [F(1, 16), F(1, 32), F(3, 64), F(1, 8)], "mm": [F(1), F(16, 10), F(2), F(7, 10)]}[units])
    return {**job, "service": {"rest": written(left, units, pick(range(5)))}}


def whole_shop(seed: int) -> dict:
    """One of the small jobs by chance with all else that a shop may enter beside it."""
    chance = random.Random(seed)
    pick, some = chance.choice, lambda: chance.random() < 0.7
    job = resting_job(seed) if chance.random() < 0.25 else small_job(pick)
    units, planer = job["units"], job.setdefault("planer", {})
    mm = units == "mm"
    planer["table"] = pick(["300", "450"] if mm else ["12", "18 1/2"])
    planer["shortest"] = pick(["200", "500"] if mm else ["8", "20"])
    if some():
        planer["snipe"] = {"lead": pick(["80", "0"] if mm else ["3", "2 1/2"]), "trail": pick(["50"] if mm else ["2"])}
    if some():
        planer.setdefault("head", {"speed": "5000 rpm", "knives": 3})["diameter"] = pick(["70"] if mm else ["3 1/4"])
    if some():
        planer["record"] = {
            "offset": pick([0.2, -0.3]),
            "offset_worth": pick([1, 3]),
            "spread": 0.05,
            "spread_worth": 6,
            "runs": 2,
            "fed": pick([0, 812.5]),
            "set_seconds": 25,
            "handle_seconds": 9.5,
            "timed": 2,
            "lead": 61,
            "trail": 40,
            "sniped": 1,
        }
    job["parts"] = [{"name": "rail", "length": pick(["150", "260"] if mm else ["6", "10 1/4"]), "count": pick([1, 3])}]
    job["cutting"] = {"kerf": "3 mm", "trim": pick(["0", "10 mm"]), "ends": pick(["alone", "butted", "guarded"])}
    job["rates"] = {key: pick([30, 12.5]) for key in ("people", "machine") if some()}
    if some():
        job["rates"]["wood"] = 9
    service = job.setdefault("service", {})
    service |= {"moisture_now": pick([9, 12, 18]), "grain": pick(["flatsawn", "quartersawn"])}
    service |= pick([{"moisture_then": pick([6, 8, 13])}, {"temperature": "21 C", "humidity": pick([35, 60])}])
    job["shop"] = {"bag": "60 L", "air": "1500 m3/h", "duct": "120 mm", "noise": pick([92, 98.5])}
    return job
