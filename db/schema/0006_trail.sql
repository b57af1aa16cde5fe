-- The trail of what was changed, chained by hash; who may sign in, and the recovery code.

-- One entry for each change. digest: of salt, trainee, subject and words; seal: of the seal before, number,
-- at_time, by_whom, what and digest (BLAKE2b, 256 bits, hexadecimal). words: JSON object, what was and what is.
-- What an entry says can be taken out when a person is erased; digest and seal stay, so that the chain holds.
CREATE TABLE trail_entry (
    number INTEGER PRIMARY KEY CHECK (number >= 1),
    at_time TEXT NOT NULL CHECK (at_time <> ''),
    at_ms INTEGER NOT NULL,
    by_whom TEXT NOT NULL CHECK (by_whom <> ''),
    what TEXT NOT NULL CHECK (what <> ''),
    salt TEXT CHECK (length(salt) = 32),
    trainee TEXT CHECK (trainee <> ''),
    subject TEXT,
    words TEXT CHECK (words GLOB '{*}'),
    digest TEXT NOT NULL CHECK (length(digest) = 64),
    seal TEXT NOT NULL CHECK (length(seal) = 64),
    CONSTRAINT trail_entry_words CHECK
        ((salt IS NULL) = (words IS NULL) AND (subject IS NULL) = (words IS NULL)
         AND (words IS NOT NULL OR trainee IS NULL))
) STRICT;
CREATE INDEX trail_entry_by_trainee ON trail_entry (trainee);
CREATE TRIGGER trail_entry_follows BEFORE INSERT ON trail_entry
WHEN NEW.number > 1 AND NOT EXISTS (SELECT 1 FROM trail_entry WHERE number = NEW.number - 1)
BEGIN SELECT RAISE (ABORT, 'an entry of the trail must follow the one before'); END;
CREATE TRIGGER trail_entry_stays BEFORE UPDATE OF number, at_time, at_ms, by_whom, what, digest, seal ON trail_entry
BEGIN SELECT RAISE (ABORT, 'the trail never changes'); END;
CREATE TRIGGER trail_entry_words_stay BEFORE UPDATE OF salt, trainee, subject, words ON trail_entry
WHEN NEW.words IS NOT NULL OR NOT EXISTS (SELECT 1 FROM erasing WHERE trainee = OLD.trainee)
BEGIN SELECT RAISE (ABORT, 'the trail never changes'); END;
CREATE TRIGGER trail_entry_remains BEFORE DELETE ON trail_entry
BEGIN SELECT RAISE (ABORT, 'entries of the trail are never deleted'); END;

-- Who may sign in. instructor: whose attempts are their own; a coordinator may do without. passphrase: an
-- Argon2id string as libsodium writes it. Without a coordinator here everybody may do everything.
CREATE TABLE account (
    name TEXT NOT NULL PRIMARY KEY CHECK (name <> ''),
    role TEXT NOT NULL CHECK (role IN ('instructor', 'coordinator')),
    instructor TEXT REFERENCES instructor (key),
    passphrase TEXT NOT NULL CHECK (passphrase GLOB '$argon2id$*'),
    CONSTRAINT account_instructor CHECK (role = 'coordinator' OR instructor IS NOT NULL)
) STRICT, WITHOUT ROWID;

-- One row once sign-in is in use: the recovery code (an Argon2id string) and the failures since the last success.
CREATE TABLE sign_in_guard (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    recovery TEXT NOT NULL CHECK (recovery GLOB '$argon2id$*'),
    failures INTEGER NOT NULL CHECK (failures >= 0),
    last_failure_ms INTEGER NOT NULL
) STRICT;
