-- Second scorings: what two instructors settled afterwards. The settled attempt is an attempt of its own; this
-- record tells it from a scoring. It stays as it was written: settling again is another record.

-- first_scoring, second_scoring, settled: ids of attempts, which may come into the file later. The four lists
-- are JSON arrays of step ids. at_time: as written; at_ms: the same moment, milliseconds since 1970 UTC.
CREATE TABLE settlement (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    first_scoring TEXT NOT NULL CHECK (first_scoring <> ''),
    second_scoring TEXT NOT NULL CHECK (second_scoring <> ''),
    settled TEXT NOT NULL CHECK (settled <> ''),
    by_whom TEXT NOT NULL REFERENCES instructor (key),
    at_time TEXT NOT NULL CHECK (at_time <> ''),
    at_ms INTEGER NOT NULL,
    first_right TEXT NOT NULL CHECK (first_right GLOB '[[]*]'),
    second_right TEXT NOT NULL CHECK (second_right GLOB '[[]*]'),
    other TEXT NOT NULL CHECK (other GLOB '[[]*]'),
    left_open TEXT NOT NULL CHECK (left_open GLOB '[[]*]'),
    CONSTRAINT settlement_three CHECK
        (first_scoring <> second_scoring AND first_scoring <> settled AND second_scoring <> settled)
) STRICT, WITHOUT ROWID;
CREATE INDEX settlement_by_first ON settlement (first_scoring, at_ms);
CREATE TRIGGER settlement_stays BEFORE UPDATE ON settlement
BEGIN SELECT RAISE (ABORT, 'settlements never change'); END;
CREATE TRIGGER settlement_remains BEFORE DELETE ON settlement
BEGIN SELECT RAISE (ABORT, 'settlements are never deleted'); END;
