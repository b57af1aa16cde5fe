-- A small program file of form 5: the file of form 4 beside this one, brought up to date by the step of that time.
-- Invented people.
PRAGMA application_id = 1298877552;
PRAGMA user_version = 5;
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE fact (
    key TEXT NOT NULL PRIMARY KEY CHECK (key <> ''),
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO fact VALUES('program.title','Invented district, driver training');
INSERT INTO fact VALUES('projection.version','1');
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
INSERT INTO trainee VALUES('t-1','Ada Example','2026-02-01','2026-02-02','2026-08-02','',92.5,'2026-02-20','','first',0);
INSERT INTO trainee VALUES('t-2','Bo Example','2026-02-01','','','',NULL,'','','',0);
CREATE TABLE instructor (
    key TEXT NOT NULL PRIMARY KEY CHECK (key <> ''),
    name TEXT NOT NULL,
    to_complete INTEGER NOT NULL CHECK (to_complete IN (0, 1))
) STRICT, WITHOUT ROWID;
INSERT INTO instructor VALUES('i-1','i-1',1);
CREATE TABLE bus (
    key TEXT NOT NULL PRIMARY KEY CHECK (key <> ''),
    title TEXT NOT NULL,
    equipment TEXT NOT NULL CHECK (equipment GLOB '[[]*]'),
    limits TEXT NOT NULL CHECK (limits GLOB '{*}'),
    note TEXT NOT NULL,
    to_complete INTEGER NOT NULL CHECK (to_complete IN (0, 1))
) STRICT, WITHOUT ROWID;
INSERT INTO bus VALUES('14','14','[]','{}','',1);
CREATE TABLE rubric (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL CHECK (id <> ''),
    edition INTEGER NOT NULL CHECK (edition >= 1),
    title TEXT NOT NULL,
    text TEXT NOT NULL CHECK (text <> ''),
    UNIQUE (id, edition)
) STRICT;
INSERT INTO rubric VALUES(1,'small',1,'Small rubric',replace('format: markerlamp.rubric/1\nid: small\nedition: 1\ntitle: Small rubric\nequipment: {air-brakes: Air brakes}\npass: {percent: 80}\nlimits:\n  leak: {high: 3, unit: psi, source: "common practice, no published source"}\nzones:\n  - id: brakes\n    title: Brakes\n    steps:\n      - {id: start, title: Guarded start, show: Set the brake}\n      - id: leak-test\n        title: Leak test\n        show: Hold the pedal\n        say: [{id: limit, text: at most 3 psi}, {id: engine, text: engine off}]\n        reading: {quantity: loss, limit: leak}\n','\n',char(10)));
CREATE TABLE limit_set (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    title TEXT NOT NULL,
    text TEXT NOT NULL CHECK (text <> '')
) STRICT;
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
INSERT INTO attempt VALUES(1,'a-1',1,'t-1','i-1','14','["air-brakes"]','["brakes"]','{"leak":{"high":2.0}}','2026-03-02T06:10:00-05:00',1772449800000,NULL,0);
INSERT INTO attempt VALUES(2,'a-2',1,'t-1','i-1','14','["air-brakes"]','["brakes"]','{"leak":{"high":2.0}}','2026-03-03T06:10:00-05:00',1772536200000,NULL,0);
INSERT INTO attempt VALUES(3,'a-3',1,'t-1','i-1','14','["air-brakes"]','["brakes"]','{"leak":{"high":2.0}}','2026-03-03T06:10:00-05:00',1772536200000,'a-2',0);
INSERT INTO attempt VALUES(4,'a-4',1,'t-2','i-1','14','["air-brakes"]','["brakes"]','{"leak":{"high":2.0}}','2026-03-04T06:10:00-05:00',1772622600000,NULL,1);
CREATE TABLE word (
    number INTEGER PRIMARY KEY,
    text TEXT NOT NULL UNIQUE CHECK (text <> '')
) STRICT;
INSERT INTO word VALUES(1,'start');
INSERT INTO word VALUES(2,'leak-test');
INSERT INTO word VALUES(3,'limit');
INSERT INTO word VALUES(4,'engine');
INSERT INTO word VALUES(5,'psi');
CREATE TABLE event_kind (
    code INTEGER PRIMARY KEY,
    word TEXT NOT NULL UNIQUE
) STRICT;
INSERT INTO event_kind VALUES(1,'show');
INSERT INTO event_kind VALUES(2,'say');
INSERT INTO event_kind VALUES(3,'partly');
INSERT INTO event_kind VALUES(4,'wrong');
INSERT INTO event_kind VALUES(5,'prompt');
INSERT INTO event_kind VALUES(6,'reading');
INSERT INTO event_kind VALUES(7,'fault');
INSERT INTO event_kind VALUES(8,'omit');
INSERT INTO event_kind VALUES(9,'unseen');
INSERT INTO event_kind VALUES(10,'unreached');
INSERT INTO event_kind VALUES(11,'note');
INSERT INTO event_kind VALUES(12,'pause');
INSERT INTO event_kind VALUES(13,'resume');
INSERT INTO event_kind VALUES(14,'retract');
INSERT INTO event_kind VALUES(15,'end');
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
INSERT INTO event VALUES(1,1,0.0,1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(1,2,4.0,11,NULL,NULL,NULL,NULL,NULL,NULL,'calm',NULL,NULL,NULL);
INSERT INTO event VALUES(1,3,5.0,8,2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(1,4,20.0,15,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(2,1,0.0,1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(2,2,3.25,1,2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(2,3,4.0,2,2,3,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(2,4,5.0,2,2,4,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(2,5,6.0,6,2,NULL,1.5,NULL,NULL,5,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(2,6,20.0,15,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(3,1,0.0,1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(3,2,4.0,11,NULL,NULL,NULL,NULL,NULL,NULL,'calm',NULL,NULL,NULL);
INSERT INTO event VALUES(3,3,5.0,8,2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(3,4,20.0,15,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(4,1,0.0,1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO event VALUES(4,2,4.0,11,NULL,NULL,NULL,NULL,NULL,NULL,'calm',NULL,NULL,NULL);
CREATE TABLE attempt_projection (attempt INTEGER PRIMARY KEY REFERENCES attempt (number), ended INTEGER NOT NULL, result INTEGER NOT NULL, percent REAL NOT NULL, earned INTEGER NOT NULL, possible INTEGER NOT NULL, shown_percent REAL NOT NULL, said_percent REAL NOT NULL, order_percent REAL NOT NULL, seconds REAL NOT NULL, steps_scored INTEGER NOT NULL, steps_in_scope INTEGER NOT NULL, amended INTEGER NOT NULL, partial INTEGER NOT NULL) STRICT;
INSERT INTO attempt_projection VALUES(1,1,2,50.0,1,2,50.0,0.0,100.0,20.0,2,2,0,0);
INSERT INTO attempt_projection VALUES(2,1,0,100.0,2,2,100.0,100.0,100.0,20.0,2,2,0,0);
INSERT INTO attempt_projection VALUES(3,1,2,50.0,1,2,50.0,0.0,100.0,20.0,2,2,0,0);
INSERT INTO attempt_projection VALUES(4,0,2,50.0,1,2,50.0,0.0,100.0,4.0,1,2,0,0);
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
INSERT INTO forecast VALUES('f-1','t-1','official-test','2026-03-05T06:10:00-05:00',1772709000000,NULL,'small',1,1,2,0.625,0.25,0.875,'close','not yet');
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
INSERT INTO readiness_override VALUES('o-1','t-1','close','steady on the last two','i-1','2026-03-05T06:00:00-05:00',1772708400000,0);
CREATE TABLE test_result (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    segment TEXT NOT NULL CHECK (segment <> ''),
    passed INTEGER NOT NULL CHECK (passed IN (0, 1)),
    note TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO test_result VALUES('r-1','t-1','2026-03-09','inspection',0,'spring brakes');
INSERT INTO test_result VALUES('r-2','t-1','2026-03-12','inspection',1,'');
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
INSERT INTO clock_hours VALUES('h-0','t-1','2026-03-01','range',90,'i-1','','2026-03-01T16:00:00Z',NULL,0);
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
CREATE TABLE struck_result (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    trainee TEXT NOT NULL REFERENCES trainee (key),
    result TEXT NOT NULL CHECK (result <> ''),
    reason TEXT NOT NULL CHECK (reason <> ''),
    at_time TEXT NOT NULL CHECK (at_time <> '')
) STRICT, WITHOUT ROWID;
CREATE TABLE licence (
    trainee TEXT NOT NULL PRIMARY KEY REFERENCES trainee (key),
    number TEXT NOT NULL,
    state TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO licence VALUES('t-2','Y','OH');
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
CREATE TABLE erasing (
    trainee TEXT NOT NULL PRIMARY KEY REFERENCES trainee (key),
    anonymous TEXT NOT NULL UNIQUE CHECK (anonymous GLOB 'erased-?*')
) STRICT, WITHOUT ROWID;
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
CREATE TABLE sheet_record (
    id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    attempt TEXT NOT NULL CHECK (attempt <> ''),
    what TEXT NOT NULL CHECK (what IN ('made', 'signed', 'taken-back')),
    at_time TEXT NOT NULL CHECK (at_time <> ''),
    at_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX attempt_by_trainee ON attempt (trainee, started_ms);
CREATE INDEX attempt_by_rubric ON attempt (rubric);
CREATE TRIGGER event_follows BEFORE INSERT ON event
WHEN EXISTS (SELECT 1 FROM event WHERE attempt = NEW.attempt AND n = NEW.n)
    OR (NEW.n > 1 AND NOT EXISTS
        (SELECT 1 FROM event WHERE attempt = NEW.attempt AND n = NEW.n - 1 AND t <= NEW.t))
BEGIN SELECT RAISE (ABORT, 'an event must follow the one before in number and time'); END;
CREATE TRIGGER event_remains BEFORE DELETE ON event
BEGIN SELECT RAISE (ABORT, 'events are never deleted'); END;
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
CREATE VIEW event_in_words AS
SELECT a.id AS attempt, e.n, e.t, k.word AS "do", s.text AS step, p.text AS point, e.value, e.low, e.high,
       u.text AS unit, e.text, e.retracts AS event, e.by_whom AS "by", e.at_time AS "at"
FROM event e
JOIN attempt a ON a.number = e.attempt
JOIN event_kind k ON k.code = e.kind
LEFT JOIN word s ON s.number = e.step
LEFT JOIN word p ON p.number = e.point
LEFT JOIN word u ON u.number = e.unit;
CREATE INDEX forecast_by_trainee ON forecast (trainee, at_ms);
CREATE TRIGGER forecast_remains BEFORE DELETE ON forecast
BEGIN SELECT RAISE (ABORT, 'frozen forecasts are never deleted'); END;
CREATE INDEX readiness_override_by_trainee ON readiness_override (trainee, at_ms);
CREATE TRIGGER readiness_override_remains BEFORE DELETE ON readiness_override
BEGIN SELECT RAISE (ABORT, 'overrides are never deleted'); END;
CREATE INDEX test_result_by_trainee ON test_result (trainee, date);
CREATE INDEX clock_hours_by_trainee ON clock_hours (trainee, date);
CREATE INDEX booked_test_by_trainee ON booked_test (trainee, date);
CREATE INDEX absence_by_trainee ON absence (trainee, left_on);
CREATE INDEX struck_result_by_result ON struck_result (result);
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
CREATE TRIGGER attempt_stays BEFORE UPDATE OF number, id, rubric, instructor, bus, equipment, zones, limits,
    started, started_ms, second_of ON attempt
BEGIN SELECT RAISE (ABORT, 'the header of an attempt never changes'); END;
CREATE TRIGGER attempt_trainee_stays BEFORE UPDATE OF trainee ON attempt
WHEN NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee AND anonymous = NEW.trainee)
BEGIN SELECT RAISE (ABORT, 'the header of an attempt never changes'); END;
CREATE TRIGGER event_stays BEFORE UPDATE OF attempt, n, t, kind, step, point, value, low, high, unit, retracts,
    by_whom, at_time ON event
BEGIN SELECT RAISE (ABORT, 'events never change'); END;
CREATE TRIGGER event_text_stays BEFORE UPDATE OF text ON event
WHEN NOT EXISTS (SELECT 1 FROM erasing e JOIN attempt a ON a.trainee = e.trainee WHERE a.number = OLD.attempt)
    OR NEW.text IS NOT (CASE OLD.kind WHEN 11 THEN '(erased)' END)
BEGIN SELECT RAISE (ABORT, 'events never change'); END;
CREATE TRIGGER forecast_stays BEFORE UPDATE OF id, about, at_time, at_ms, attempt, rubric, edition,
    model_version, attempts, chance, low, high, word, computed ON forecast
BEGIN SELECT RAISE (ABORT, 'frozen forecasts never change'); END;
CREATE TRIGGER forecast_trainee_stays BEFORE UPDATE OF trainee ON forecast
WHEN NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee AND anonymous = NEW.trainee)
BEGIN SELECT RAISE (ABORT, 'frozen forecasts never change'); END;
CREATE TRIGGER readiness_override_stays BEFORE UPDATE OF id, word, by_whom, at_time, at_ms, withdrawn
    ON readiness_override
BEGIN SELECT RAISE (ABORT, 'overrides never change'); END;
CREATE TRIGGER readiness_override_trainee_stays BEFORE UPDATE OF trainee, reason ON readiness_override
WHEN NEW.reason <> '(erased)'
    OR NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee AND anonymous = NEW.trainee)
BEGIN SELECT RAISE (ABORT, 'overrides never change'); END;
CREATE TRIGGER test_result_remains BEFORE DELETE ON test_result
WHEN NOT (EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee)
          AND EXISTS (SELECT 1 FROM struck_result WHERE result = OLD.id))
BEGIN SELECT RAISE (ABORT, 'test results are never deleted'); END;
CREATE TRIGGER test_result_stays BEFORE UPDATE OF date, segment, passed ON test_result
BEGIN SELECT RAISE (ABORT, 'test results never change'); END;
CREATE TRIGGER test_result_trainee_stays BEFORE UPDATE OF id, trainee, note ON test_result
WHEN NEW.note <> ''
    OR NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee AND anonymous = NEW.trainee)
BEGIN SELECT RAISE (ABORT, 'test results never change'); END;
CREATE INDEX settlement_by_first ON settlement (first_scoring, at_ms);
CREATE TRIGGER settlement_stays BEFORE UPDATE ON settlement
BEGIN SELECT RAISE (ABORT, 'settlements never change'); END;
CREATE TRIGGER settlement_remains BEFORE DELETE ON settlement
BEGIN SELECT RAISE (ABORT, 'settlements are never deleted'); END;
CREATE INDEX sheet_record_by_attempt ON sheet_record (attempt);
CREATE TRIGGER sheet_record_stays BEFORE UPDATE ON sheet_record
BEGIN SELECT RAISE (ABORT, 'records of sheets never change'); END;
CREATE TRIGGER sheet_record_remains BEFORE DELETE ON sheet_record
BEGIN SELECT RAISE (ABORT, 'records of sheets are never deleted'); END;
COMMIT;
