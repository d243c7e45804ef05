"""The part of the VBA module that is our own, run by LibreOffice's Basic in VBA mode (there is no Excel here)."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tests.addins.calc.office import SYSTEM_PYTHON, need_office
from workbook_tools.addins.excel.vba import module_text

SIDE = Path(__file__).with_name("vba_side.py")
PROBE = """
Const xlErrNA = 2042
Const xlErrValue = 2015
Const xlErrNum = 2036

Function Kind(value As Variant) As String
    If IsError(value) Then
        Kind = "error " & CStr(CLng(value))
    Else
        Kind = TypeName(value) & " " & CStr(value)
    End If
End Function

Function Probe() As String
    Dim line(0 To 2) As Variant, table(0 To 1, 0 To 1) As Variant, out As Variant
    Probe = Kind(Shown("#N/A")) & ";" & Kind(Shown("#VALUE!")) & ";" & Kind(Shown("#NUM!"))
    Probe = Probe & ";" & Kind(Shown("in date")) & ";" & Kind(Shown(2.5)) & ";" & Kind(Shown(""))
    line(0) = 1.5
    line(1) = "#N/A"
    line(2) = "x"
    out = Shown(line)
    Probe = Probe & "|" & Kind(out(0)) & ";" & Kind(out(1)) & ";" & Kind(out(2))
    table(0, 0) = "#NUM!"
    table(0, 1) = 3.5
    table(1, 0) = ""
    table(1, 1) = "#VALUE!"
    out = Shown(table)
    Probe = Probe & "|" & Kind(out(0, 0)) & ";" & Kind(out(0, 1)) & ";" & Kind(out(1, 0)) & ";" & Kind(out(1, 1))
End Function
"""


@pytest.mark.office
def test_errors_given_back_as_text_become_real_in_a_cell_a_row_and_a_table(tmp_path: Path) -> None:
    need_office()
    text = module_text().replace("\r\n", "\n")
    own = text[text.index("Private Function Shown") : text.index("' Run once")].replace("Private Function", "Function")
    module = tmp_path / "module.bas"
    module.write_text(f"Option VBASupport 1\n{own}\n{PROBE}", encoding="utf-8")
    run = subprocess.run(
        [SYSTEM_PYTHON, str(SIDE), str(tmp_path / "profile"), str(module), "Probe"],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert run.stdout.strip().split("|") == [
        "error 2042;error 2015;error 2036;String in date;Double 2.5;String ",
        "Double 1.5;error 2042;String x",
        "error 2036;Double 3.5;String ;error 2015",
    ], run.stderr
