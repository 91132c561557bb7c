"""From number to words: the one unambiguous way the shop would say it, for reading back.

Whatever is said here is read by `numbers.read_number` as the same number, and as no other of like
magnitude: a round trip that the tests hold. Hyphens are for the synthesiser; the reader drops them.

Values should come rounded (`present` does that); finer ones than can be said are rounded here to a
hundredth of a thou or a tenth of a micrometre, so that a sentence never fails.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from assistant.phrases.words import ONES, TEENS, TENS
from assistant.units import Quantity, magnitude, mm

_WORDS = {value: word for word, value in (ONES | TEENS | TENS).items()}
_FIGURES = {str(value): word for word, value in ONES.items()} | {"0": "oh"}
_PARTS = {Decimal("0.25"): "a quarter", Decimal("0.5"): "a half", Decimal("0.75"): "three quarters"}
_FINEST_INCH, _FINEST_MM, _FINEST = Decimal("0.00001"), Decimal("0.0001"), Decimal("0.0001")
_THOUSAND, _TENTH_INCH = Decimal(1000), Decimal("0.1")


def say_length(size: Quantity, unit: str = "") -> str:
    """A size in inches or millimetres: `nine forty and a half`, `thirty point oh two millimetres`.

    `unit` is `inch` or `mm`; without it, millimetres where the size is metric, else inches.
    """
    if (unit or _own_unit(size)) == "mm":
        value = _rounded(magnitude(size, "mm"), _FINEST_MM)
        return f"{say_millimetres(value)} {'millimetre' if abs(value) == 1 else 'millimetres'}"
    value = _rounded(magnitude(size, "inch"), _FINEST_INCH)
    if value >= 0:
        return _inches(value)
    # below zero only thou and numbers with a point are understood
    return f"minus {_inches(-value) if value > -_TENTH_INCH else _with_point(-value)}"


def say_apart(size: Quantity, unit: str = "") -> str:
    """A size as no other size can be said, in its own unit: `one hundred and fifty thou`, `one inch
    and five hundred thou`. `unit` is that of a bare size in the job, `inch` or `mm`.

    `one fifty` is said back as `one fifty`, and heard as whichever of its two was meant.
    """
    if _own_unit(size) == "mm":
        hundredths = magnitude(size, "mm") * 100
        if 0 < hundredths < 10 and hundredths == hundredths.to_integral_value():
            name = "hundredth" if hundredths == 1 else "hundredths"
            return f"{_count(int(hundredths))} {name} of a millimetre"
        return say_length(size)
    value = _rounded(magnitude(size, "inch"), _FINEST_INCH)
    inches, thou = int(abs(value)), abs(value) % 1 * _THOUSAND
    sign = "minus " if value < 0 else ""
    tenths = thou % 1 and thou % 1 not in _PARTS
    if not value:
        return "zero"
    if not _sayable(thou) or (tenths and unit == "mm") or (sign and inches) or inches > 99:
        return f"{sign}{_with_point(abs(value))}"
    if not inches:
        return f"{sign}{_thou_apart(thou)}"
    whole = f"{_count(inches)} {'inch' if inches == 1 else 'inches'}"
    return f"{whole} and {_thou_apart(thou)}" if thou else whole


def _thou_apart(thou: Decimal) -> str:
    """Below an inch, with the word thou always, and the hundreds in full."""
    whole, part = int(thou), thou % 1
    if not whole or (whole == 1 and part):
        return _thou(thou)
    if not part:
        return f"{_count(whole)} thou"
    if part in _PARTS:
        return f"{_count(whole)} and {_PARTS[part]} thou"
    return f"{_count(whole)} thou and {_tenths(part)}"


def say_reading(reading: Quantity, unit: str = "") -> str:
    """What a dial reads, as it is marked: thou on an inch dial, millimetres on a metric one."""
    if (unit or _own_unit(reading)) == "mm":
        value = _rounded(magnitude(reading, "mm"), _FINEST_MM)
        whole = value == value.to_integral_value()
        return say_length(reading, "mm") if whole and value else say_millimetres(value)
    thou = _rounded(magnitude(reading, "inch"), _FINEST_INCH) * _THOUSAND
    if thou == 0:
        return "zero"
    if not 1 <= thou < 1000 or not _sayable(thou):
        return say_length(reading, "inch")
    return _thou_number(thou)


def say_turns(turns: int, part: Quantity | None = None, unit: str = "") -> str:
    """Whole turns and the dial after them: `four turns and one forty and a half`."""
    words = f"{_count(turns)} {'turn' if turns == 1 else 'turns'}"
    if part is None or (turns and part.magnitude == 0):
        return words
    return f"{words} and {say_reading(part, unit)}" if turns else say_reading(part, unit)


def say_turn_count(turns: Decimal) -> str:
    """Turns counted in parts: `two and a quarter turns`, `half a turn`."""
    whole, part = divmod(_rounded(turns, _FINEST), 1)
    if part in _PARTS:
        if whole:
            return f"{_count(int(whole))} and {_PARTS[part]} turns"
        return "half a turn" if part == Decimal("0.5") else f"{_PARTS[part]} of a turn"
    return f"{say_plain(turns)} {'turn' if turns == 1 else 'turns'}"


def say_deviation(size: Quantity, unit: str = "") -> str:
    """Over or under: `two over`, `half a thou under`, `five hundredths over`, `on size`."""
    unit = unit or _own_unit(size)
    way = "under" if size.magnitude < 0 else "over"
    if unit == "mm":
        value = _rounded(abs(magnitude(size, "mm")), _FINEST_MM)
        hundredths = value * 100
        if value == 0:
            return "on size"
        if hundredths == hundredths.to_integral_value() and hundredths < 100:
            name = "hundredth" if hundredths == 1 else "hundredths"
            return f"{_count(int(hundredths))} {name} {way}"
        return f"{say_length(mm(value))} {way}"
    thou = _rounded(abs(magnitude(size, "inch")), _FINEST_INCH) * _THOUSAND
    if thou == 0:
        return "on size"
    short = 1 <= thou < 100 and thou % 1 in (0, *_PARTS)
    return f"{_thou_number(thou) if short else _inches(thou / _THOUSAND)} {way}"


def say_rate(rate: Quantity | Decimal) -> str:
    """The number of a speed or feed, as on a gearbox: `one eighty`, `two and a quarter`."""
    value = rate if isinstance(rate, Decimal) else Decimal(rate.magnitude)
    whole, part = divmod(_rounded(value, _FINEST), 1)
    if part in _PARTS and 0 < whole < 100:
        return f"{_count(int(whole))} and {_PARTS[part]}"
    if part:
        return say_plain(value)
    number = int(whole)
    hundreds, rest = divmod(number, 100)
    if number < 100 or number % 1000 == 0 or number >= 10_000 or not hundreds % 10:
        return _count(number)
    if not rest:
        return f"{_below_hundred(hundreds)} hundred"
    tail = f"oh {_WORDS[rest]}" if rest < 10 else _below_hundred(rest)
    return f"{_below_hundred(hundreds)} {tail}"


def say_angle(angle: Quantity) -> str:
    """Degrees, with minutes where they come out whole: `twenty-nine and a half degrees`."""
    degrees = magnitude(angle, "degree")
    whole, part = divmod(_rounded(degrees, _FINEST), 1)
    minutes = _rounded(magnitude(angle, "arcminute"), _FINEST) - 60 * whole
    name = "degree" if degrees == 1 else "degrees"
    if part in _PARTS and 0 < whole < 100:
        return f"{_count(int(whole))} and {_PARTS[part]} degrees"
    if part and whole > 0 and minutes == minutes.to_integral_value() and minutes < 60:
        minute = "minute" if minutes == 1 else "minutes"
        return f"{_count(int(whole))} {name} {_count(int(minutes))} {minute}"
    return f"{say_plain(degrees)} {name}"


def say_plain(value: Decimal) -> str:
    """A number by itself: `one hundred and eighty`, `thirty point oh two`, `zero point five`."""
    return _plain(value, nought="zero ")


def say_millimetres(value: Decimal) -> str:
    """A number of millimetres: `thirty point oh two`, `point oh eight`."""
    return _plain(value, nought="")


def _plain(value: Decimal, *, nought: str) -> str:
    value = _rounded(value, _FINEST)
    sign, whole, places = "minus " if value < 0 else "", *_split(abs(value))
    if not places:
        return sign + _count(whole)
    return f"{sign}{_whole(whole) or nought}point {_figures(places)}"


def _inches(value: Decimal) -> str:
    whole, thou = int(value), value % 1 * _THOUSAND
    if not value:
        return "zero"
    if not _sayable(thou):
        return _with_point(value)
    inches = f"{_count(whole)} {'inch' if whole == 1 else 'inches'}"
    if not whole:
        return _thou(thou)
    if not thou:
        return inches
    if whole < 10:
        words = _places(whole, thou)
        if words:
            return words
    if thou < 1:
        return f"{inches} and {_thou(thou)}"
    return f"{inches} {_thou_number(thou) if thou % 100 == 0 else _thou(thou)}"


def _places(whole: int, thou: Decimal) -> str:
    """Under ten inches by the places after the point: `one six six six`, `one seven fifty`,
    `one five hundred`; '' where that can't be said or would be misread.

    In `one one twenty-five` the doubled word is easily lost, so there the inch is said.
    """
    part = thou % 1
    hundreds, rest = divmod(int(thou), 100)
    even = rest % 25 == 0
    if not part and not even:
        return _figures(f"{whole}{int(thou):03d}")
    if part and part not in _PARTS and thou >= 100:
        return _figures(f"{whole}{int(thou * 10):04d}")
    if hundreds in (0, whole) or (part and part != Decimal("0.5")):
        return ""
    if not part and not rest:
        return f"{_WORDS[whole]} {_WORDS[hundreds]} hundred"
    if rest < 10:
        return ""
    half = " and a half" if part else ""
    return f"{_WORDS[whole]} {_WORDS[hundreds]} {_below_hundred(rest)}{half}"


def _with_point(inches: Decimal) -> str:
    """Inches with every place that they have, one at least."""
    whole, places = _split(inches)
    return f"{_whole(whole)}point {_figures(places or '0')} inches"


def _whole(whole: int) -> str:
    """The words before the point: none for nought, as the shop says it."""
    return f"{_count(whole)} " if whole else ""


def _sayable(thou: Decimal) -> bool:
    """Whether the part of a thou is a quarter or a whole number of tenths."""
    part = thou % 1
    return part in _PARTS or part * 10 == (part * 10).to_integral_value()


def _thou(thou: Decimal) -> str:
    """Below an inch: `forty and a half thou`, `six twenty-five`, `two tenths`."""
    whole, part = int(thou), thou % 1
    if not whole:
        return "half a thou" if part == Decimal("0.5") else _part_of_a_thou(part)
    if whole > 100 and whole % 100:
        return _thou_number(thou)
    if not part or (part in _PARTS and whole != 1):
        return f"{_thou_number(thou)} thou"
    if part in _PARTS:
        return f"a thou and {_PARTS[part]}"
    return f"{_count(whole)} thou and {_tenths(part)}"


def _part_of_a_thou(part: Decimal) -> str:
    return f"{_PARTS[part]} of a thou" if part in _PARTS else _tenths(part)


def _thou_number(thou: Decimal) -> str:
    whole, part = int(thou), thou % 1
    hundred, rest = divmod(whole, 100)
    if not hundred:
        words = _below_hundred(whole)
    elif not rest:
        words = f"{_WORDS[hundred]} hundred"
    else:
        words = f"{_WORDS[hundred]} {f'oh {_WORDS[rest]}' if rest < 10 else _below_hundred(rest)}"
    if not part:
        return words
    return f"{words} and {_PARTS[part] if part in _PARTS else _tenths(part)}"


def _tenths(part: Decimal) -> str:
    tenths = int(part * 10)
    return "one tenth" if tenths == 1 else f"{_WORDS[tenths]} tenths"


def _count(number: int) -> str:
    if number == 0:
        return "zero"
    thousands, rest = divmod(number, 1000)
    hundreds, units = divmod(rest, 100)
    words = []
    if thousands:
        words.append(f"{_count(thousands)} thousand")
    if hundreds:
        words.append(f"{_WORDS[hundreds]} hundred")
    if units:
        words += ["and"] * bool(words) + [_below_hundred(units)]
    return " ".join(words)


def _below_hundred(number: int) -> str:
    if number in _WORDS:
        return _WORDS[number]
    return f"{_WORDS[number // 10 * 10]}-{_WORDS[number % 10]}"


def _figures(figures: str) -> str:
    return " ".join(_FIGURES[figure] for figure in figures)


def _split(value: Decimal) -> tuple[int, str]:
    whole, _, places = f"{value:f}".partition(".")
    return int(whole), places.rstrip("0")


def _rounded(value: Decimal, finest: Decimal) -> Decimal:
    return value.quantize(finest, ROUND_HALF_UP)


def _own_unit(size: Quantity) -> str:
    return "mm" if "meter" in str(size.units) else "inch"
