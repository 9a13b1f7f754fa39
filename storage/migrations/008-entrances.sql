-- How people and machines come in. Of passwords and tokens only hashes are kept.

CREATE TABLE account (
  person_id TEXT PRIMARY KEY REFERENCES person,
  sign_in_name TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (trim(sign_in_name) <> '' AND length(sign_in_name) <= 200),
  password_hash TEXT NOT NULL CHECK (password_hash GLOB '$argon2id$*'),
  failed_tries INTEGER NOT NULL CHECK (failed_tries >= 0),
  locked_until_ms INTEGER CHECK (locked_until_ms >= 0),
  made_ms INTEGER NOT NULL CHECK (made_ms >= 0)
) STRICT;

CREATE TABLE entrance (
  -- SHA-256 of the token
  token_hash TEXT PRIMARY KEY CHECK (length(token_hash) = 64 AND token_hash NOT GLOB '*[^0-9a-f]*'),
  kind TEXT NOT NULL CHECK (kind IN ('session', 'token', 'invitation')),
  -- null: the invitation of the very first person
  person_id TEXT REFERENCES person,
  label TEXT NOT NULL CHECK (length(label) <= 200),
  made_ms INTEGER NOT NULL CHECK (made_ms >= 0),
  -- null: until it is ended
  until_ms INTEGER,
  ended_ms INTEGER,
  CHECK (person_id IS NOT NULL OR kind = 'invitation'),
  CHECK (kind = 'token' OR until_ms IS NOT NULL),
  CHECK (until_ms > made_ms),
  CHECK (ended_ms >= made_ms)
) STRICT;
CREATE INDEX entrance_of_person ON entrance (person_id, kind);
CREATE TRIGGER entrances_only_end BEFORE UPDATE ON entrance
  WHEN OLD.ended_ms IS NOT NULL OR NEW.token_hash <> OLD.token_hash OR NEW.kind <> OLD.kind
    OR NEW.person_id IS NOT OLD.person_id OR NEW.made_ms <> OLD.made_ms OR NEW.until_ms IS NOT OLD.until_ms
  BEGIN SELECT RAISE(ABORT, 'entrance: it can only be ended'); END;

CREATE TRIGGER account_is_not_deleted BEFORE DELETE ON account BEGIN SELECT RAISE(ABORT, 'account: nothing is deleted'); END;
CREATE TRIGGER entrance_is_not_deleted BEFORE DELETE ON entrance BEGIN SELECT RAISE(ABORT, 'entrance: nothing is deleted'); END;
