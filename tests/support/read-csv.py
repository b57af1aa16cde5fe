# SPDX-FileCopyrightText: The Markerlamp developers
# SPDX-License-Identifier: GPL-3.0-or-later
# What Python's own csv module finds in a file, as JSON. Strict: a stray quote is an error.
import csv
import json
import sys

with open(sys.argv[1], newline="", encoding="utf-8") as file:
    rows = list(csv.reader(file, strict=True))
with open(sys.argv[1], "rb") as file:
    text = file.read()
json.dump({"rows": rows, "ends_in_crlf": text.endswith(b"\r\n")}, sys.stdout)
