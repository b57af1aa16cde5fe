-- People: clock hours, booked tests, times away, licences, what the training record says; and erasing a person.
-- Hours, bookings and times away stay as they were written: a correction is a record that replaces another,
-- which may come into the file later. Licence and course may change.

CREATE TABLE clock_hours (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    kind TEXT NOT NULL CHECK (kind IN ('range', 'public-road', 'other')),
    minutes INTEGER NOT NULL CHECK (minutes BETWEEN 1 AND 1440),
    instructor TEXT NOT NULL REFERENCES instructor (key),
    note TEXT NOT NULL,
    at_time TEXT NOT NULL CHECK (at_time <> ''),
    replaces TEXT CHECK (replaces <> ''),
    struck INTEGER NOT NULL CHECK (struck IN (0, 1))
) STRICT, WITHOUT ROWID;
CREATE INDEX clock_hours_by_trainee ON clock_hours (trainee, date);

-- segments: JSON array of ids. time: HH:MM or empty.
CREATE TABLE booked_test (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    time TEXT NOT NULL CHECK (time = '' OR time GLOB '[0-2][0-9]:[0-5][0-9]'),
    segments TEXT NOT NULL CHECK (segments GLOB '[[]?*]'),
    place TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('booked', 'cancelled', 'done')),
    note TEXT NOT NULL,
    at_time TEXT NOT NULL CHECK (at_time <> ''),
    replaces TEXT CHECK (replaces <> '')
) STRICT, WITHOUT ROWID;
CREATE INDEX booked_test_by_trainee ON booked_test (trainee, date);

CREATE TABLE absence (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    left_on TEXT NOT NULL CHECK (left_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    returned_on TEXT NOT NULL
        CHECK (returned_on = '' OR returned_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    reason TEXT NOT NULL,
    at_time TEXT NOT NULL CHECK (at_time <> ''),
    replaces TEXT CHECK (replaces <> ''),
    struck INTEGER NOT NULL CHECK (struck IN (0, 1)),
    CONSTRAINT absence_order CHECK (returned_on = '' OR left_on <= returned_on)
) STRICT, WITHOUT ROWID;
CREATE INDEX absence_by_trainee ON absence (trainee, left_on);

-- result: id of a test_result, which may come into the file later.
CREATE TABLE struck_result (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    result TEXT NOT NULL CHECK (result <> ''),
    reason TEXT NOT NULL CHECK (reason <> ''),
    at_time TEXT NOT NULL CHECK (at_time <> '')
) STRICT, WITHOUT ROWID;
CREATE INDEX struck_result_by_result ON struck_result (result);

CREATE TABLE licence (
    trainee TEXT NOT NULL PRIMARY KEY REFERENCES trainee (key),
    number TEXT NOT NULL,
    state TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- Dates are YYYY-MM-DD or empty. proficient_by: key of an instructor, who may come into the file later.
CREATE TABLE course (
    trainee TEXT NOT NULL PRIMARY KEY REFERENCES trainee (key),
    covers TEXT NOT NULL CHECK (covers IN ('both', 'theory', 'wheel')),
    licence_class TEXT NOT NULL,
    endorsements TEXT NOT NULL,
    theory_provider TEXT NOT NULL,
    theory_provider_number TEXT NOT NULL,
    range_done TEXT NOT NULL
        CHECK (range_done = '' OR range_done GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    road_done TEXT NOT NULL
        CHECK (road_done = '' OR road_done GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    proficient_on TEXT NOT NULL
        CHECK (proficient_on = '' OR proficient_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    proficient_by TEXT NOT NULL,
    permit_seen TEXT NOT NULL
        CHECK (permit_seen = '' OR permit_seen GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    self_certified TEXT NOT NULL
        CHECK (self_certified = '' OR self_certified GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    theory_reported TEXT NOT NULL
        CHECK (theory_reported = '' OR theory_reported GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    wheel_reported TEXT NOT NULL
        CHECK (wheel_reported = '' OR wheel_reported GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]')
) STRICT, WITHOUT ROWID;

-- A row stands here only inside the transaction that erases a person. It opens the triggers below for this
-- person and for what erasing changes: another key, no words of people. Everything else stays shut.
CREATE TABLE erasing (
    trainee TEXT NOT NULL PRIMARY KEY REFERENCES trainee (key),
    anonymous TEXT NOT NULL UNIQUE CHECK (anonymous GLOB 'erased-?*')
) STRICT, WITHOUT ROWID;

CREATE TRIGGER clock_hours_stays BEFORE UPDATE ON clock_hours
BEGIN SELECT RAISE (ABORT, 'clock hours never change'); END;
CREATE TRIGGER clock_hours_remains BEFORE DELETE ON clock_hours
WHEN NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee)
BEGIN SELECT RAISE (ABORT, 'clock hours are never deleted'); END;
CREATE TRIGGER booked_test_stays BEFORE UPDATE ON booked_test
BEGIN SELECT RAISE (ABORT, 'booked tests never change'); END;
CREATE TRIGGER booked_test_remains BEFORE DELETE ON booked_test
WHEN NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee)
BEGIN SELECT RAISE (ABORT, 'booked tests are never deleted'); END;
CREATE TRIGGER absence_stays BEFORE UPDATE ON absence
BEGIN SELECT RAISE (ABORT, 'absences never change'); END;
CREATE TRIGGER absence_remains BEFORE DELETE ON absence
WHEN NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee)
BEGIN SELECT RAISE (ABORT, 'absences are never deleted'); END;

CREATE TRIGGER struck_result_stays BEFORE UPDATE ON struck_result
BEGIN SELECT RAISE (ABORT, 'struck results never change'); END;
CREATE TRIGGER struck_result_remains BEFORE DELETE ON struck_result
WHEN NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee)
BEGIN SELECT RAISE (ABORT, 'struck results are never deleted'); END;

DROP TRIGGER attempt_stays;
CREATE TRIGGER attempt_stays BEFORE UPDATE OF number, id, rubric, instructor, bus, equipment, zones, limits,
    started, started_ms, second_of ON attempt
BEGIN SELECT RAISE (ABORT, 'the header of an attempt never changes'); END;
CREATE TRIGGER attempt_trainee_stays BEFORE UPDATE OF trainee ON attempt
WHEN NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee AND anonymous = NEW.trainee)
BEGIN SELECT RAISE (ABORT, 'the header of an attempt never changes'); END;

DROP TRIGGER event_stays;
CREATE TRIGGER event_stays BEFORE UPDATE OF attempt, n, t, kind, step, point, value, low, high, unit, retracts,
    by_whom, at_time ON event
BEGIN SELECT RAISE (ABORT, 'events never change'); END;
-- A note must have a text; other events may do without.
CREATE TRIGGER event_text_stays BEFORE UPDATE OF text ON event
WHEN NOT EXISTS (SELECT 1 FROM erasing e JOIN attempt a ON a.trainee = e.trainee WHERE a.number = OLD.attempt)
    OR NEW.text IS NOT (CASE OLD.kind WHEN 11 THEN '(erased)' END)
BEGIN SELECT RAISE (ABORT, 'events never change'); END;

DROP TRIGGER forecast_stays;
CREATE TRIGGER forecast_stays BEFORE UPDATE OF id, about, at_time, at_ms, attempt, rubric, edition,
    model_version, attempts, chance, low, high, word, computed ON forecast
BEGIN SELECT RAISE (ABORT, 'frozen forecasts never change'); END;
CREATE TRIGGER forecast_trainee_stays BEFORE UPDATE OF trainee ON forecast
WHEN NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee AND anonymous = NEW.trainee)
BEGIN SELECT RAISE (ABORT, 'frozen forecasts never change'); END;

DROP TRIGGER readiness_override_stays;
CREATE TRIGGER readiness_override_stays BEFORE UPDATE OF id, word, by_whom, at_time, at_ms, withdrawn
    ON readiness_override
BEGIN SELECT RAISE (ABORT, 'overrides never change'); END;
CREATE TRIGGER readiness_override_trainee_stays BEFORE UPDATE OF trainee, reason ON readiness_override
WHEN NEW.reason <> '(erased)'
    OR NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee AND anonymous = NEW.trainee)
BEGIN SELECT RAISE (ABORT, 'overrides never change'); END;

-- The id of a result may have been made from the trainee's key (see outcomes), so it goes too, and so does a
-- result that was struck.
DROP TRIGGER test_result_remains;
CREATE TRIGGER test_result_remains BEFORE DELETE ON test_result
WHEN NOT (EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee)
          AND EXISTS (SELECT 1 FROM struck_result WHERE result = OLD.id))
BEGIN SELECT RAISE (ABORT, 'test results are never deleted'); END;
DROP TRIGGER test_result_stays;
CREATE TRIGGER test_result_stays BEFORE UPDATE OF date, segment, passed ON test_result
BEGIN SELECT RAISE (ABORT, 'test results never change'); END;
CREATE TRIGGER test_result_trainee_stays BEFORE UPDATE OF id, trainee, note ON test_result
WHEN NEW.note <> ''
    OR NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee AND anonymous = NEW.trainee)
BEGIN SELECT RAISE (ABORT, 'test results never change'); END;
