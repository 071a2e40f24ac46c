#!/usr/bin/env python3
"""Fetches the open data of the tests and shapes them as the tests read them: python3 docs/open-data/fetch.py FOLDER

Standard library only. Says the SHA-256 of each file it writes beside the one expected. See docs/open-data.md for licences.
"""
import csv
import hashlib
import io
import json
import pathlib
import sys
import urllib.parse
import urllib.request
import xml.etree.ElementTree as xml
import zipfile
from datetime import datetime

TRACKS = ("enviroCar/envirocar-py", "ef6c72494855e3cc828b63f89d2532ad2faa7b49")
DRIVES = ("ArjanKw/obd2-data", "de9288a97f8ebb738d4b5baf1b63ce256375c7f6")
ENGINES = ("gsoh/VED", "6baa4963782d515a67d32a5490bd5d11f5d9bf0d")

TRACK_COLUMNS = {
    "rpm": "Rpm", "map_kpa": "Intake Pressure", "iat_c": "Intake Temperature", "load_pct": "Engine Load",
    "throttle_pct": "Throttle Position", "speed_kmh": "Speed", "gps_speed_kmh": "GPS Speed",
    "calc_maf_gps": "Calculated MAF", "consumption_lph": "Consumption", "co2_kgph": "CO2",
}
DIESEL = {"Engine RPM", "Engine fuel rate", "Intake air temperature", "MAF air flow rate", "Vehicle speed"}
SIMULATOR = {
    "Absolute load value", "Barometric pressure", "Calculated engine load value", "Control module voltage", "Engine RPM",
    "Engine coolant temperature", "Engine fuel rate", "Intake air temperature", "Intake manifold absolute pressure",
    "MAF air flow rate", "Throttle position", "Vehicle speed",
}


def fetched(repository, path):
    name, commit = repository
    address = f"https://raw.githubusercontent.com/{name}/{commit}/{urllib.parse.quote(path)}"
    with urllib.request.urlopen(address) as answer:
        return answer.read()


def track(source):
    """A row a sample; positions are left out."""
    samples = [feature["properties"] for feature in json.loads(source)["features"]]
    begun = when(samples[0])
    yield ["t_s", *TRACK_COLUMNS]
    for sample in samples:
        seen = sample["phenomenons"]
        values = [str(round(seen[name]["value"], 6)) if name in seen else "" for name in TRACK_COLUMNS.values()]
        yield [str(int((when(sample) - begun).total_seconds())), *values]


def when(sample):
    return datetime.fromisoformat(sample["time"].replace("Z", "+00:00"))


def drive(source, wanted, at_most=None):
    """Long form, a value a row: the wanted quantities, of each the first so many."""
    counted = {}
    yield ["seconds", "pid", "value", "units"]
    for seconds, pid, value, unit in list(csv.reader(io.StringIO(source.decode("utf-8-sig")), delimiter=";"))[1:]:
        counted[pid] = counted.get(pid, 0) + 1
        if pid in wanted and (at_most is None or counted[pid] <= at_most):
            yield [seconds, pid, value, unit.replace("\u2103", "degC")]


def sheet(source):
    """The first sheet of a workbook."""
    space = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
    book = zipfile.ZipFile(io.BytesIO(source))
    texts = ["".join(text.text or "" for text in one.iter(space + "t"))
             for one in xml.fromstring(book.read("xl/sharedStrings.xml"))]
    for row in xml.fromstring(book.read("xl/worksheets/sheet1.xml")).iter(space + "row"):
        cells = [(cell.findtext(space + "v") or "", cell.get("t")) for cell in row.iter(space + "c")]
        yield [texts[int(value)] if kind == "s" else value for value, kind in cells]


def keep(folder, name, rows, expected):
    text = "".join(",".join(row) + "\n" for row in rows).encode()
    (folder / name).write_bytes(text)
    found = hashlib.sha256(text).hexdigest()
    print(f"{name}: {'as expected' if found == expected else 'OTHER THAN EXPECTED: ' + found}")


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    folder = pathlib.Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    keep(folder, "envirocar-track-1.csv", track(fetched(TRACKS, "tests/files/track_1.json")),
         "d812897dc0c4a8b99a224598b7fa659abe475f4374239b23ed252f07d87f5f35")
    keep(folder, "volvo-diesel-maf-fuelrate.csv",
         drive(fetched(DRIVES, "data/Driver 1 - Volvo V40/2019-03-09 16-09-53.csv"), DIESEL),
         "02c730cab22c8e486c909a5dfcc64a349d21c5e66c4c311aa464c5f4310c73f8")
    keep(folder, "not-a-car-emulator-trace.csv",
         drive(fetched(DRIVES, "data/Driver 1 - Volvo V40/2019-02-22 08-03-05.csv"), SIMULATOR, 100),
         "12df7048ee57033209cf36718997f7f98b7d240220ce2306f49791ad48c07c29")
    keep(folder, "ved-static-ice-hev.csv", sheet(fetched(ENGINES, "Data/VED_Static_Data_ICE&HEV.xlsx")),
         "eae6d8c092c81eeac987db9c6394d0c807fef6feca414d29c0a20e419b5d5f2c")


if __name__ == "__main__":
    main()
