"""LibreOffice as a judge of workbooks: it computes every formula anew and hands back the numbers."""

import re
import shutil
import subprocess
import zipfile
from pathlib import Path

import pytest
from openpyxl import load_workbook

SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""  # every formula is computed anew when a file is opened, whatever number stands beside it


def recomputed(content: bytes, folder: Path) -> dict[str, list[tuple]]:
    """Sheet -> rows of values of a workbook, as LibreOffice computes them; without it on the machine the test is skipped."""
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("no LibreOffice on this machine; until it is installed")
    profile = folder / "profile"
    (profile / "user").mkdir(parents=True, exist_ok=True)
    (profile / "user" / "registrymodifications.xcu").write_text(SETTINGS, "utf-8")
    (folder / "asked.xlsx").write_bytes(content)
    subprocess.run([office, "--headless", f"-env:UserInstallation={profile.as_uri()}", "--convert-to", "xlsx", "--outdir", str(folder / "made"),
                    str(folder / "asked.xlsx")], check=True, capture_output=True, timeout=400)
    made = load_workbook(folder / "made" / "asked.xlsx", read_only=True, data_only=True)
    return {sheet.title: list(sheet.iter_rows(values_only=True)) for sheet in made.worksheets}


def with_number(content: bytes, cell: str, old: str, new: str, folder: Path) -> bytes:
    """The workbook with another number in the one cell of that name that holds `old`."""
    changed, found = folder / "changed.xlsx", 0
    (folder / "whole.xlsx").write_bytes(content)
    with zipfile.ZipFile(folder / "whole.xlsx") as source, zipfile.ZipFile(changed, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            text = source.read(name)
            if name.startswith("xl/worksheets/sheet"):
                text, count = re.subn(rf'(<c r="{cell}"[^>]*><v>){re.escape(old)}(</v>)'.encode(), rf"\g<1>{new}\g<2>".encode(), text)
                found += count
            target.writestr(name, text)
    assert found == 1
    return changed.read_bytes()
