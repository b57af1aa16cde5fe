-- What became of the paper of an attempt: made, signed by both, or a signing taken back. It stays as it was
-- written.

-- attempt: an id, which may come into the file later. at_time: as written; at_ms: the same moment,
-- milliseconds since 1970 UTC.
CREATE TABLE sheet_record (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    attempt TEXT NOT NULL CHECK (attempt <> ''),
    what TEXT NOT NULL CHECK (what IN ('made', 'signed', 'taken-back')),
    at_time TEXT NOT NULL CHECK (at_time <> ''),
    at_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX sheet_record_by_attempt ON sheet_record (attempt);
CREATE TRIGGER sheet_record_stays BEFORE UPDATE ON sheet_record
BEGIN SELECT RAISE (ABORT, 'records of sheets never change'); END;
CREATE TRIGGER sheet_record_remains BEFORE DELETE ON sheet_record
BEGIN SELECT RAISE (ABORT, 'records of sheets are never deleted'); END;
