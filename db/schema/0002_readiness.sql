-- Readiness: forecasts frozen before their result was known, instructors' overrides, official test results.
-- All of it is truth, and each record stays as it was written.

-- Words as documents write them. attempt: the id of the attempt the forecast was frozen before, which may come
-- into the file later, and so may the rubric. at_time: as written; at_ms: the same moment, milliseconds since
-- 1970 UTC.
CREATE TABLE forecast (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    about TEXT NOT NULL CHECK (about IN ('full-attempt', 'official-test')),
    at_time TEXT NOT NULL CHECK (at_time <> ''),
    at_ms INTEGER NOT NULL,
    attempt TEXT CHECK (attempt <> ''),
    rubric TEXT NOT NULL CHECK (rubric <> ''),
    edition INTEGER NOT NULL CHECK (edition >= 1),
    model_version INTEGER NOT NULL CHECK (model_version >= 0),
    attempts INTEGER NOT NULL CHECK (attempts >= 0),
    chance REAL NOT NULL CHECK (chance BETWEEN 0 AND 1),
    low REAL NOT NULL CHECK (low BETWEEN 0 AND 1),
    high REAL NOT NULL CHECK (high BETWEEN 0 AND 1),
    word TEXT NOT NULL CHECK (word IN ('ready', 'close', 'not yet', 'too little data')),
    computed TEXT NOT NULL CHECK (computed IN ('ready', 'close', 'not yet', 'too little data')),
    CONSTRAINT forecast_attempt CHECK ((attempt IS NOT NULL) = (about = 'full-attempt')),
    CONSTRAINT forecast_interval CHECK (low <= high)
) STRICT, WITHOUT ROWID;
CREATE INDEX forecast_by_trainee ON forecast (trainee, at_ms);
CREATE TRIGGER forecast_stays BEFORE UPDATE ON forecast
BEGIN SELECT RAISE (ABORT, 'frozen forecasts never change'); END;
CREATE TRIGGER forecast_remains BEFORE DELETE ON forecast
BEGIN SELECT RAISE (ABORT, 'frozen forecasts are never deleted'); END;

-- withdrawn: takes an override back; a record of its own, as the one before stays.
CREATE TABLE readiness_override (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    word TEXT NOT NULL CHECK (word IN ('ready', 'close', 'not yet', 'too little data')),
    reason TEXT NOT NULL CHECK (reason <> ''),
    by_whom TEXT NOT NULL REFERENCES instructor (key),
    at_time TEXT NOT NULL CHECK (at_time <> ''),
    at_ms INTEGER NOT NULL,
    withdrawn INTEGER NOT NULL CHECK (withdrawn IN (0, 1))
) STRICT, WITHOUT ROWID;
CREATE INDEX readiness_override_by_trainee ON readiness_override (trainee, at_ms);
CREATE TRIGGER readiness_override_stays BEFORE UPDATE ON readiness_override
BEGIN SELECT RAISE (ABORT, 'overrides never change'); END;
CREATE TRIGGER readiness_override_remains BEFORE DELETE ON readiness_override
BEGIN SELECT RAISE (ABORT, 'overrides are never deleted'); END;

CREATE TABLE test_result (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    segment TEXT NOT NULL CHECK (segment <> ''),
    passed INTEGER NOT NULL CHECK (passed IN (0, 1)),
    note TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX test_result_by_trainee ON test_result (trainee, date);
CREATE TRIGGER test_result_stays BEFORE UPDATE ON test_result
BEGIN SELECT RAISE (ABORT, 'test results never change'); END;
CREATE TRIGGER test_result_remains BEFORE DELETE ON test_result
BEGIN SELECT RAISE (ABORT, 'test results are never deleted'); END;
