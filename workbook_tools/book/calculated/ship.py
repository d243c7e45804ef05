"""Hidden: the ship's own facts in the words of the rules, one a line, and whether the main chapter applies to her."""

from __future__ import annotations

from typing import Any

from workbook_tools.book.calculated.coverage import SHIP_LINES
from workbook_tools.book.calculated.grid import number_read, resolve
from workbook_tools.book.calculated.lists import SHIP_FACTS, escaped, folded
from workbook_tools.book.calculated.writer import CalculatedBook, cell
from workbook_tools.rules.loader import load_rule_set, rule_set_names

_UNKNOWN = '"?"'


def choice(column: str, expression: str) -> str:
    """The formula that reads a cell with choices: '' where it is empty, '?' where its word is not known."""
    found = f'MATCH("{column}|"&{escaped(folded(expression))},[lists.choice_text],0)'
    return f'IF({expression}="","",IFERROR(INDEX([lists.choice_value],{found}),{_UNKNOWN}))'


def _gates() -> list[tuple[str, str]]:
    """For each gate of a main chapter: whether it is of this set and family, and whether the ship lies outside it."""
    found = []
    index = 0
    for name in rule_set_names():
        for gate in load_rule_set(name).applications:
            if "*" not in gate.covers:
                continue
            index += 1
            found.append(
                (
                    f'N(AND([ship.rule_set]="{name}",OR([ship.ship_family]="",'
                    f"[ship.ship_family]=INDEX([lists.gate_family],{index}))))",
                    f'IF(AND([ship.voyage]<>"",[ship.voyage]<>"?",'
                    f'NOT(ISNUMBER(SEARCH("|"&[ship.voyage]&"|",INDEX([lists.gate_voyages],{index}))))),1,'
                    f'IF(AND([ship.gt]<>"",N([ship.gt])<INDEX([lists.gate_gt],{index})),1,'
                    f'IF(AND([ship.keel]<>"",N([ship.keel])<INDEX([lists.gate_keel],{index})),1,0)))',
                )
            )
    return found


def gate_rows() -> list[tuple[str, str, float, int, str]]:
    """Family, voyages, least tonnage, earliest keel and paragraph of each gate of a main chapter."""
    from workbook_tools.book.calculated.engine import serial

    return [
        (
            gate.ship_family,
            f"|{'|'.join(gate.voyages)}|",
            gate.gross_tonnage_from,
            serial(gate.keel_laid_from) if gate.keel_laid_from else 0,
            gate.reference,
        )
        for name in rule_set_names()
        for gate in load_rule_set(name).applications
        if "*" in gate.covers
    ]


def write_ship(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet and make each line known as ship.key."""
    gates = _gates()
    lines: dict[str, str] = {
        "asked": "[date asked]",
        "rule_set_read": choice("rule_set", "{ship.rule_set}"),
        "rule_set": 'IF(OR([ship.rule_set_read]="",[ship.rule_set_read]="?"),INDEX([lists.set_name],1),'
        "[ship.rule_set_read])",
        "set_number": "MATCH([ship.rule_set],[lists.set_name],0)",
        **{fact: choice(fact, f"{{ship.{fact}}}") for fact in SHIP_FACTS},
        "ship_family": 'IFERROR(INDEX([lists.shiptype_family],MATCH([ship.ship_type],[lists.shiptype_name],0)),"")',
        "tanker": 'IFERROR(INDEX([lists.shiptype_tanker],MATCH([ship.ship_type],[lists.shiptype_name],0)),"")',
        "gt": number_read("ship", "gross_tonnage"),
        "keel": number_read("ship", "keel_laid"),
        "certified": number_read("ship", "persons_certified"),
        "persons_recorded": number_read("ship", "persons_on_board"),
        "passengers": number_read("ship", "passengers"),
        **SHIP_LINES,
        **{f"gate{index}_own": own for index, (own, _) in enumerate(gates, start=1)},
        **{f"gate{index}_out": out for index, (_, out) in enumerate(gates, start=1)},
        "outside": "N(AND({own}>0,{own}={out}))".format(
            own="(" + "+".join(f"[ship.gate{i}_own]" for i in range(1, len(gates) + 1)) + ")",
            out="(" + "+".join(f"[ship.gate{i}_own]*[ship.gate{i}_out]" for i in range(1, len(gates) + 1)) + ")",
        ),
        "lines": "MAX([craft.start])+INDEX([craft.count1],[ship.rooms])+INDEX([craft.count2],[ship.rooms])",
        "rooms": "ROWS([craft.start])",
        "unread": "+".join(
            [
                *(f'N([ship.{fact}]="?")' for fact in SHIP_FACTS),
                'N([ship.rule_set_read]="?")',
                *(
                    f'N(AND({{ship.{column}}}<>"",[ship.{key}]=""))'
                    for column, key in (("gross_tonnage", "gt"), ("keel_laid", "keel"))
                ),
            ]
        ),
    }
    for row, key in enumerate(lines):
        calc.names[f"ship.{key}"] = cell(page.get_name(), row, 1)
    for row, (key, formula) in enumerate(lines.items()):
        page.write(row, 0, key)
        calc.formula(page, row, 1, resolve(calc, formula))
    page.set_column(0, 0, 24)
    page.protect("")
