# SPDX-FileCopyrightText: The Markerlamp developers
# SPDX-License-Identifier: GPL-3.0-or-later
# check-study.py TABLES STUDY SALT: whether a study holds the marks of the tables and nothing else, its keys made
# anew with Python's hashlib and its dates moved anew with Python's datetime. Prints what differs.
import csv
import datetime
import hashlib
import json
import sys

tables, study, salt_file = sys.argv[1:]
salt = bytes.fromhex(open(salt_file).read().strip())
problems = []


def rows(folder, name):
    with open(f"{folder}/{name}.csv", newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file, strict=True))


def hashed(domain, name, size=16):
    return hashlib.blake2b(domain + b"\0" + name.encode(), key=salt, digest_size=size).digest()


def key(letter, name):
    return letter + hashed(letter.encode(), name)[:10].hex() if name else ""


def days(trainee):
    return datetime.timedelta(days=7 * (4000 + int.from_bytes(hashed(b"weeks", trainee)[:8], "big") % 5000))


def meant(text):
    """Without the apostrophe that defuses formulas."""
    return text[1:] if text[:1] == "'" and text[1:2] in tuple("=+-@\t\r\n") else text


LETTERS = {"trainee": "T", "group": "G", "attempt": "A", "second_scoring_of": "A", "instructor": "I", "bus": "B",
           "rubric": "R"}
dictionary = json.load(open(f"{study}/dictionary.json"))
compared = 0
for table in dictionary["tables"]:
    name = table["file"].removesuffix(".csv")
    before, after = rows(tables, name), rows(study, name)
    if len(before) != len(after) or len(after) != table["rows"]:
        problems.append(f"{name}: {len(before)} rows before, {len(after)} after, {table['rows']} said")
    # Trainees are in another order; within one trainee the order stays.
    before.sort(key=lambda row: key("T", row["trainee"]))
    for old, new in zip(before, after):
        shift = days(old["trainee"])
        for column in table["columns"]:
            value, got = old[column["name"]], new[column["name"]]
            if column["study"] == "keyed":
                value = key(LETTERS[column["name"]], meant(value))
            elif column["type"].startswith("share") and value and got and abs(float(value) - float(got)) < 1e-3:
                value = got  # a forecast of another minute
            elif column["study"] == "moved" and value:
                moment = datetime.datetime.fromisoformat(value).replace(tzinfo=None)
                moved = moment + shift
                if moved.weekday() != moment.weekday() or (moment.year >= 2024 and moved.year < 2100):
                    problems.append(f"{name}.{column['name']}: {value} became {got}")
                value = (moved.replace(minute=moved.minute // 15 * 15).isoformat(timespec="minutes")
                         if "T" in value else moved.date().isoformat())
            if value != got:
                problems.append(f"{name}.{column['name']}: {value} became {got}")
            compared += 1
        if set(new) != {column["name"] for column in table["columns"]}:
            problems.append(f"{name}: columns {sorted(new)}")
print("\n".join(problems[:20]) or f"{compared} cells compared")
sys.exit(1 if problems else 0)
