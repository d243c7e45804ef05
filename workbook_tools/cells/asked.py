"""What the rule rows ask of a craft, for the cell functions. Loaded on the first call, since it reads the rules.

A row whose condition hangs on a fact that is not given may or may not apply. Where that changes the answer, there is
none: #N/A, with the fact in the reason. Nothing is assumed but purpose=required (a craft that counts).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache, lru_cache

from workbook_tools import catalogue
from workbook_tools.catalogue import normalise
from workbook_tools.cells.arguments import text_of, unknown
from workbook_tools.cells.option import COUNTED, LENGTHS, Option, parse_option
from workbook_tools.cells.registry import NOT_AVAILABLE, VALUE_ERROR, CellError, Scalar
from workbook_tools.core.quantity import in_band, required
from workbook_tools.rules import Rule, RuleSet, load_rule_set
from workbook_tools.rules.model import FACTS, STATUS_WORDS, STATUSES

PACKS = FACTS["pack"]
_DEFAULT_PACK = "A"


@dataclass(frozen=True, slots=True)
class Entry:
    """A row that applies (sure) or may apply; why tells what is open."""

    rule: Rule
    sure: bool
    why: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """An item of a craft: the entries that count it, those on its length, and any other on it."""

    item: str
    counted: tuple[Entry, ...]
    lengths: tuple[Entry, ...]
    others: tuple[Entry, ...]
    stands_for: str = ""  # the item asked in whose place this one may stand
    simple: Rule | None = None  # the one row that counts it, where nothing is open


@dataclass(frozen=True, slots=True)
class Craft:
    """A craft as the arguments describe it: the subjects of the rules it answers to, and its facts."""

    subjects: tuple[str, ...]
    facts: dict[str, str | None]


def craft_of(craft_type: str, pack: str, option: Option) -> Craft:
    """The craft that a text means. #N/A for a kind that is not known, #VALUE! for a pack that is none."""
    kind, construction = _kind(craft_type)
    families = catalogue.craft_kinds()[kind].families
    facts: dict[str, str | None] = {"kind": kind, "purpose": "required", "construction": construction, **option.facts}
    letter = _pack(pack)
    if "liferaft" in families:
        facts["pack"] = letter
        families = (*families, f"liferaft-{letter.lower()}")
    return Craft(families, facts)


def _kind(text: str) -> tuple[str, str | None]:
    """The kind of craft, and its construction where the text begins with one ('inflated rescue boat')."""
    folded = normalise(text)
    names = catalogue.craft_kind_names()
    found, construction = names.find(text), None
    for choice in sorted(FACTS["construction"], key=len, reverse=True):
        start = f"{normalise(choice)} "
        if folded.startswith(start):
            found = found or names.find(folded.removeprefix(start))
            construction = choice
            break
    if found is None:
        raise unknown("craft", text)
    return found, construction


def _pack(text: str) -> str:
    words = [word for word in text.upper().replace("-", " ").split() if word not in ("SOLAS", "PACK")]
    if not words:
        return _DEFAULT_PACK
    if len(words) == 1 and words[0] in PACKS:
        return words[0]
    raise CellError(VALUE_ERROR, f"pack: {text!r} is neither A nor B")


def entries(rule_set: RuleSet, craft: Craft, option: Option) -> Iterator[Entry]:
    """The rows on the equipment of a craft that apply, or may apply, on the day asked, in the order of the tables."""
    for rule in rule_set.rules:
        if rule.subject not in craft.subjects or rule.evidence not in COUNTED + LENGTHS or not rule.in_force(option.on):
            continue
        applies, why = rule.condition.holds(craft.facts)
        in_period, keel = _keel(rule, option.keel)
        if applies is False or in_period is False:
            continue
        if rule.evidence == "maker":
            applies, why = None, "asked only where the maker specifies it"
        yield Entry(rule, applies is True and in_period is True, why or keel)


def _keel(rule: Rule, keel: date | None) -> tuple[bool | None, str]:
    if rule.keel_laid_from is None and rule.keel_laid_until is None:
        return True, ""
    if keel is None:
        return None, "the keel date is not given"
    return (rule.keel_laid_from or date.min) <= keel <= (rule.keel_laid_until or date.max), ""


@cache
def first_day(rules: str) -> date:
    """The first day of which a rule set knows anything."""
    return min(rule.in_force_from for rule in load_rule_set(rules).rules)


def rules_on(option: Option) -> RuleSet:
    """The rule set asked. #N/A for a day before its first row."""
    if option.on < first_day(option.rules):
        raise CellError(NOT_AVAILABLE, f"the rules begin on {first_day(option.rules)}")
    return load_rule_set(option.rules)


def question(item: Scalar, craft_type: Scalar, pack: Scalar, option: Scalar) -> Question:
    """What is asked of an item in a craft, worked out once for the same arguments. Raises CellError."""
    found = _question(item, craft_type, pack, option)
    if isinstance(found, Question):
        return found
    raise CellError(*found)


@lru_cache(maxsize=8192, typed=True)
def _question(item: Scalar, craft_type: Scalar, pack: Scalar, option: Scalar) -> Question | tuple[str, str]:
    """The question, or kind and reason of the error: errors are kept as well, since lists repeat them."""
    try:
        return _ask(text_of(item), text_of(craft_type), text_of(pack or ""), text_of(option or ""))
    except CellError as error:
        return error.kind, error.why


def _ask(item: str, craft_type: str, pack: str, option_text: str) -> Question:
    name = catalogue.item_names().find(item)
    if name is None:
        raise unknown("item", item)
    option = parse_option(option_text)
    craft = craft_of(craft_type, pack, option)
    rule_set = rules_on(option)
    dimension = catalogue.items()[name].dimension
    counted: list[Entry] = []
    lengths: list[Entry] = []
    others: list[Entry] = []
    every = list(entries(rule_set, craft, option))
    for entry in every:
        if entry.rule.item == name:
            _place(entry, dimension, counted, lengths, others)
    single = counted[0] if len(counted) == 1 else None
    return Question(
        item=name,
        counted=tuple(counted),
        lengths=tuple(lengths),
        others=tuple(others),
        stands_for="" if counted or lengths or others else _stands_for(name, every, rule_set, option.on),
        simple=single.rule if single and single.sure and not single.rule.band_by else None,
    )


def _place(entry: Entry, dimension: str, counted: list[Entry], lengths: list[Entry], others: list[Entry]) -> None:
    measure = catalogue.units()[entry.rule.unit].dimension
    if measure == dimension and entry.rule.evidence in COUNTED and not entry.rule.at_most:
        counted.append(entry)
    elif measure == "length" and entry.rule.evidence in LENGTHS and not entry.rule.at_most:
        lengths.append(entry)
    else:
        others.append(entry)


def _stands_for(name: str, every: list[Entry], rule_set: RuleSet, on: date) -> str:
    """The item asked of the craft that this one counts as, or may stand for."""
    for entry in every:
        if entry.rule.item in catalogue.items()[name].counts_as:
            return entry.rule.item
        for other in rule_set.substitutes.get(entry.rule.key, ()):
            if other.by_item == name and other.in_force(on):
                return entry.rule.item
    return ""


def number_asked(found: Question, persons: int) -> float:
    """How many, or how much, is asked of a craft permitted so many persons; 0 where nothing is.

    #N/A where a fact that is not given decides, where the texts ask the item without a number, and where it is asked
    only as something else that it may stand for.
    """
    if found.simple is not None:
        return float(required(found.simple, persons) or 0.0)
    if not found.counted and (found.lengths or found.others):
        raise CellError(NOT_AVAILABLE, f"the rules give no number of {found.item} for this craft")
    if found.stands_for:
        raise CellError(NOT_AVAILABLE, f"{found.item} is asked as {found.stands_for}")
    return _decided(found.counted, persons, None)


def length_asked(found: Question, height_m: float | None) -> float:
    """The length in metres asked of an item. #N/A where the rules give none or a fact not given decides."""
    if not found.lengths:
        raise CellError(NOT_AVAILABLE, f"the rules give no length of {found.item} for this craft")
    return _decided(found.lengths, None, height_m)


def _decided(entries: tuple[Entry, ...], persons: int | None, height_m: float | None) -> float:
    """The largest quantity of those that surely apply, if none that may apply asks more."""
    sure = possible = 0.0
    why = ""
    for entry in entries:
        inside = in_band(entry.rule, persons if entry.rule.band_by == "persons" else None)
        if inside is False:
            continue
        amount = required(entry.rule, persons, height_m)
        if amount is None:
            raise CellError(VALUE_ERROR, "the stowage height is not given")
        if entry.sure and inside:
            sure = max(sure, amount)
        elif amount > possible:
            possible, why = amount, entry.why or "the size is not given"
    if possible > sure:
        raise CellError(NOT_AVAILABLE, why)
    return float(sure)


def _all(found: Question) -> tuple[Entry, ...]:
    """The entries that tell of an item: those that count it, or else those on its length or strength."""
    chosen = found.counted or found.lengths or found.others
    if not chosen:
        raise CellError(NOT_AVAILABLE, f"no rule asks {found.item} of this craft")
    return chosen


def _joined(texts: Iterator[str]) -> str:
    return "; ".join(dict.fromkeys(texts))


def reference(found: Question) -> str:
    """The paragraphs that ask an item."""
    return _joined(entry.rule.reference for entry in _all(found))


def sureness(found: Question) -> str:
    """How sure the figures are, in words: those of the least sure row."""
    return STATUS_WORDS[max((entry.rule.status for entry in _all(found)), key=STATUSES.index)]


def unit(found: Question) -> str:
    """The unit of the quantity asked."""
    return _joined(entry.rule.unit for entry in _all(found))


def conditions(found: Question) -> str:
    """What the answer hangs on and is not given, in words; '' where nothing is open."""
    return _joined(entry.why for entry in _all(found) if not entry.sure)


@lru_cache(maxsize=64, typed=True)
def checklist(craft_type: Scalar, pack: Scalar, option: Scalar) -> tuple[tuple[str, str, str], ...]:
    """The list of a craft: item, what is asked in words, paragraph."""
    from workbook_tools.cells.wording import asked_words

    chosen = parse_option(text_of(option or ""))
    craft = craft_of(text_of(craft_type), text_of(pack or ""), chosen)
    rows: list[tuple[str, str, str]] = []
    for entry in entries(rules_on(chosen), craft, chosen):
        kept: tuple[list[Entry], list[Entry], list[Entry]] = ([], [], [])
        _place(entry, catalogue.items()[entry.rule.item].dimension, *kept)
        if not kept[2]:
            rows.append((entry.rule.item, asked_words(entry.rule, entry.sure), entry.rule.reference))
    return tuple(rows)
