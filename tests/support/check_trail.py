# SPDX-FileCopyrightText: The Markerlamp developers
# SPDX-License-Identifier: GPL-3.0-or-later
# Works out the seals of a trail from the rows alone, with hashlib's BLAKE2b; prints how many entries fit.
import hashlib
import json
import sqlite3
import sys


def blake2b(*what):
    text = json.dumps(what, separators=(",", ":"), ensure_ascii=False)
    return hashlib.blake2b(text.encode(), digest_size=32).hexdigest()


before, count = "", 0
for n, at, ms, by, what, salt, trainee, subject, words, digest, seal in sqlite3.connect(sys.argv[1]).execute(
        "SELECT number, at_time, at_ms, by_whom, what, salt, coalesce(trainee, ''), subject, words, digest, seal "
        "FROM trail_entry ORDER BY number"):
    if blake2b(salt, trainee, subject, words) != digest or blake2b(before, n, at, ms, by, what, digest) != seal:
        break
    before, count = seal, count + 1
print(json.dumps({"fit": count}))
