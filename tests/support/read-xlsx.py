# SPDX-FileCopyrightText: The Markerlamp developers
# SPDX-License-Identifier: GPL-3.0-or-later
# What openpyxl finds in a spreadsheet, as JSON: a reader that shares nothing with the writer.
import json
import sys

try:
    import openpyxl
except ImportError:
    sys.exit(77)

book = openpyxl.load_workbook(sys.argv[1])
sheets = {}
for sheet in book:
    sheets[sheet.title] = {
        "frozen": sheet.freeze_panes,
        "filter": sheet.auto_filter.ref,
        "rows": [[[cell.data_type,
                   cell.value.isoformat() if hasattr(cell.value, "isoformat") else cell.value,
                   cell.number_format] for cell in row] for row in sheet.iter_rows()],
    }
properties = book.properties
json.dump({"order": book.sheetnames, "sheets": sheets, "creator": properties.creator,
           "last_modified_by": properties.lastModifiedBy, "title": properties.title}, sys.stdout)
