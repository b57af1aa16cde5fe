-- First schema of a program file: people, buses, rubrics, limit sets, facts, attempts and their events.
-- All of it is truth. What can be computed from it (attempt_projection) is made by the program, not here.
-- Never edited after release: a change is a new step.

CREATE TABLE fact (
    key TEXT NOT NULL PRIMARY KEY CHECK (key <> ''),
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- People and buses. to_complete: made because an attempt named the key. Dates are YYYY-MM-DD or empty.
CREATE TABLE trainee (
    key TEXT NOT NULL PRIMARY KEY CHECK (key <> ''),
    name TEXT NOT NULL,
    started TEXT NOT NULL CHECK (started = '' OR started GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    permit_issued TEXT NOT NULL
        CHECK (permit_issued = '' OR permit_issued GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    permit_expires TEXT NOT NULL
        CHECK (permit_expires = '' OR permit_expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    medical_expires TEXT NOT NULL
        CHECK (medical_expires = '' OR medical_expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    theory_percent REAL CHECK (theory_percent BETWEEN 0 AND 100),
    theory_date TEXT NOT NULL
        CHECK (theory_date = '' OR theory_date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    "group" TEXT NOT NULL,
    note TEXT NOT NULL,
    to_complete INTEGER NOT NULL CHECK (to_complete IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE TABLE instructor (
    key TEXT NOT NULL PRIMARY KEY CHECK (key <> ''),
    name TEXT NOT NULL,
    to_complete INTEGER NOT NULL CHECK (to_complete IN (0, 1))
) STRICT, WITHOUT ROWID;

-- equipment: JSON array of tags; limits: JSON object, limit id to {"low": number, "high": number}.
CREATE TABLE bus (
    key TEXT NOT NULL PRIMARY KEY CHECK (key <> ''),
    title TEXT NOT NULL,
    equipment TEXT NOT NULL CHECK (equipment GLOB '[[]*]'),
    limits TEXT NOT NULL CHECK (limits GLOB '{*}'),
    note TEXT NOT NULL,
    to_complete INTEGER NOT NULL CHECK (to_complete IN (0, 1))
) STRICT, WITHOUT ROWID;

-- Rubrics and limit sets are whole documents. An edition that an attempt was scored with never changes.
CREATE TABLE rubric (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL CHECK (id <> ''),
    edition INTEGER NOT NULL CHECK (edition >= 1),
    title TEXT NOT NULL,
    text TEXT NOT NULL CHECK (text <> ''),
    UNIQUE (id, edition)
) STRICT;

CREATE TABLE limit_set (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    title TEXT NOT NULL,
    text TEXT NOT NULL CHECK (text <> '')
) STRICT;

-- Header of an attempt. started: as written; started_ms: the same moment, milliseconds since 1970 UTC.
-- second_of: id of the first scoring, which may come into the file later. set_aside is the one column that
-- may change.
CREATE TABLE attempt (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (id <> ''),
    rubric INTEGER NOT NULL REFERENCES rubric (number),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    instructor TEXT NOT NULL REFERENCES instructor (key),
    bus TEXT NOT NULL REFERENCES bus (key),
    equipment TEXT NOT NULL CHECK (equipment GLOB '[[]*]'),
    zones TEXT NOT NULL CHECK (zones GLOB '[[]*]'),
    limits TEXT NOT NULL CHECK (limits GLOB '{*}'),
    started TEXT NOT NULL,
    started_ms INTEGER NOT NULL,
    second_of TEXT CHECK (second_of <> ''),
    set_aside INTEGER NOT NULL DEFAULT 0 CHECK (set_aside IN (0, 1))
) STRICT;
CREATE INDEX attempt_by_trainee ON attempt (trainee, started_ms);
CREATE INDEX attempt_by_rubric ON attempt (rubric);

-- Ids of steps, points and units, each written once, so that an event is a few bytes.
CREATE TABLE word (
    number INTEGER PRIMARY KEY,
    text TEXT NOT NULL UNIQUE CHECK (text <> '')
) STRICT;

CREATE TABLE event_kind (
    code INTEGER PRIMARY KEY,
    word TEXT NOT NULL UNIQUE
) STRICT;
INSERT INTO event_kind (code, word) VALUES
    (1, 'show'), (2, 'say'), (3, 'partly'), (4, 'wrong'), (5, 'prompt'), (6, 'reading'), (7, 'fault'),
    (8, 'omit'), (9, 'unseen'), (10, 'unreached'), (11, 'note'), (12, 'pause'), (13, 'resume'),
    (14, 'retract'), (15, 'end');

-- What the instructor recorded, append-only. What an event does not have is NULL.
CREATE TABLE event (
    attempt INTEGER NOT NULL REFERENCES attempt (number),
    n INTEGER NOT NULL CHECK (n >= 1),
    t REAL NOT NULL CHECK (t >= 0),
    kind INTEGER NOT NULL CHECK (kind BETWEEN 1 AND 15),
    step INTEGER REFERENCES word (number),
    point INTEGER REFERENCES word (number),
    value REAL,
    low REAL,
    high REAL,
    unit INTEGER REFERENCES word (number),
    text TEXT CHECK (text <> ''),
    retracts INTEGER,
    by_whom TEXT CHECK (by_whom <> ''),
    at_time TEXT CHECK (at_time <> ''),
    PRIMARY KEY (attempt, n),
    CONSTRAINT event_step CHECK
        (CASE WHEN kind <= 10 THEN step IS NOT NULL WHEN kind = 11 THEN 1 ELSE step IS NULL END),
    CONSTRAINT event_point CHECK
        (CASE kind WHEN 2 THEN point IS NOT NULL WHEN 4 THEN 1 ELSE point IS NULL END),
    CONSTRAINT event_number CHECK
        (CASE kind WHEN 6 THEN value IS NOT NULL AND unit IS NOT NULL AND low IS NULL AND high IS NULL
                   WHEN 2 THEN (value IS NULL OR low IS NULL) AND (low IS NULL) = (high IS NULL)
                               AND (unit IS NOT NULL OR (value IS NULL AND low IS NULL))
                   ELSE value IS NULL AND low IS NULL AND high IS NULL AND unit IS NULL END),
    CONSTRAINT event_text CHECK (text IS NULL OR kind IN (4, 7, 11)),
    CONSTRAINT event_retracts CHECK (CASE kind WHEN 14 THEN retracts BETWEEN 1 AND n - 1
                                               ELSE retracts IS NULL END),
    CONSTRAINT event_amended CHECK ((by_whom IS NULL) = (at_time IS NULL))
) STRICT, WITHOUT ROWID;

CREATE TRIGGER event_follows BEFORE INSERT ON event
WHEN EXISTS (SELECT 1 FROM event WHERE attempt = NEW.attempt AND n = NEW.n)
    OR (NEW.n > 1 AND NOT EXISTS
        (SELECT 1 FROM event WHERE attempt = NEW.attempt AND n = NEW.n - 1 AND t <= NEW.t))
BEGIN SELECT RAISE (ABORT, 'an event must follow the one before in number and time'); END;
CREATE TRIGGER event_stays BEFORE UPDATE ON event
BEGIN SELECT RAISE (ABORT, 'events never change'); END;
CREATE TRIGGER event_remains BEFORE DELETE ON event
BEGIN SELECT RAISE (ABORT, 'events are never deleted'); END;

CREATE TRIGGER attempt_stays BEFORE UPDATE OF number, id, rubric, trainee, instructor, bus, equipment, zones,
    limits, started, started_ms, second_of ON attempt
BEGIN SELECT RAISE (ABORT, 'the header of an attempt never changes'); END;
CREATE TRIGGER attempt_remains BEFORE DELETE ON attempt
BEGIN SELECT RAISE (ABORT, 'attempts are never deleted'); END;

CREATE TRIGGER rubric_stays BEFORE UPDATE ON rubric
WHEN EXISTS (SELECT 1 FROM attempt WHERE rubric = OLD.number)
BEGIN SELECT RAISE (ABORT, 'a rubric edition that an attempt used never changes'); END;
CREATE TRIGGER rubric_remains BEFORE DELETE ON rubric
WHEN EXISTS (SELECT 1 FROM attempt WHERE rubric = OLD.number)
BEGIN SELECT RAISE (ABORT, 'a rubric edition that an attempt used is never deleted'); END;

CREATE TRIGGER word_stays BEFORE UPDATE ON word
BEGIN SELECT RAISE (ABORT, 'words never change'); END;

-- The events with their words, for people who look into a file with a database tool.
CREATE VIEW event_in_words AS
SELECT a.id AS attempt, e.n, e.t, k.word AS "do", s.text AS step, p.text AS point, e.value, e.low, e.high,
       u.text AS unit, e.text, e.retracts AS event, e.by_whom AS "by", e.at_time AS "at"
FROM event e
JOIN attempt a ON a.number = e.attempt
JOIN event_kind k ON k.code = e.kind
LEFT JOIN word s ON s.number = e.step
LEFT JOIN word p ON p.number = e.point
LEFT JOIN word u ON u.number = e.unit;
