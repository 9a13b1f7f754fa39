-- A confirmation that rests on a key nobody confirmed may be followed by one that rests on a better key, and a revocation
-- by one from an earlier moment on: both tables may name a certificate more than once.

DROP TRIGGER certificates_are_confirmed_by_another;
DROP TRIGGER revoked_certificates_are_not_confirmed;
DROP TRIGGER certificate_confirmation_is_not_altered;
DROP TRIGGER certificate_confirmation_is_not_deleted;
DROP TRIGGER certificates_are_revoked_by_their_party;
DROP TRIGGER certificate_revocation_is_not_altered;
DROP TRIGGER certificate_revocation_is_not_deleted;
ALTER TABLE certificate_confirmation RENAME TO former_confirmation;
ALTER TABLE certificate_revocation RENAME TO former_revocation;

CREATE TABLE certificate_confirmation (
  certificate TEXT NOT NULL REFERENCES certificate,
  by_party_id TEXT NOT NULL REFERENCES party,
  statement TEXT NOT NULL UNIQUE REFERENCES statement,
  PRIMARY KEY (certificate, by_party_id, statement)
) STRICT;
INSERT INTO certificate_confirmation SELECT certificate, by_party_id, statement FROM former_confirmation ORDER BY rowid;
DROP TABLE former_confirmation;

CREATE TABLE certificate_revocation (
  certificate TEXT NOT NULL REFERENCES certificate,
  statement TEXT NOT NULL UNIQUE REFERENCES statement,
  -- signatures from this moment on are refused; the earliest one holds
  from_ms INTEGER NOT NULL CHECK (from_ms >= 0),
  PRIMARY KEY (certificate, statement)
) STRICT;
INSERT INTO certificate_revocation SELECT certificate, statement, from_ms FROM former_revocation ORDER BY rowid;
DROP TABLE former_revocation;

CREATE TRIGGER certificates_are_confirmed_by_another BEFORE INSERT ON certificate_confirmation
  WHEN NOT EXISTS (SELECT 1 FROM statement JOIN certificate AS signer ON signer.fingerprint = statement.certificate
      WHERE statement.id = NEW.statement AND statement.kind = 'key-confirmation' AND signer.party_id = NEW.by_party_id)
    OR (SELECT party_id FROM certificate WHERE fingerprint = NEW.certificate) = NEW.by_party_id
  BEGIN SELECT RAISE(ABORT, 'certificate_confirmation: not stated by another party'); END;
CREATE TRIGGER revoked_certificates_are_not_confirmed BEFORE INSERT ON certificate_confirmation
  WHEN EXISTS (SELECT 1 FROM certificate_revocation WHERE certificate = NEW.certificate)
  BEGIN SELECT RAISE(ABORT, 'certificate_confirmation: revoked'); END;
CREATE TRIGGER certificates_are_revoked_by_their_party BEFORE INSERT ON certificate_revocation
  WHEN NOT EXISTS (SELECT 1 FROM statement
      JOIN certificate AS signer ON signer.fingerprint = statement.certificate
      JOIN certificate AS revoked ON revoked.fingerprint = NEW.certificate
      WHERE statement.id = NEW.statement AND statement.kind = 'revocation' AND signer.party_id = revoked.party_id)
  BEGIN SELECT RAISE(ABORT, 'certificate_revocation: not stated by its own party'); END;
CREATE TRIGGER revocations_only_come_earlier BEFORE INSERT ON certificate_revocation
  WHEN EXISTS (SELECT 1 FROM certificate_revocation WHERE certificate = NEW.certificate AND from_ms <= NEW.from_ms)
  BEGIN SELECT RAISE(ABORT, 'certificate_revocation: revoked already from then on'); END;

CREATE TRIGGER certificate_confirmation_is_not_altered BEFORE UPDATE ON certificate_confirmation BEGIN SELECT RAISE(ABORT, 'certificate_confirmation: history is not altered'); END;
CREATE TRIGGER certificate_confirmation_is_not_deleted BEFORE DELETE ON certificate_confirmation BEGIN SELECT RAISE(ABORT, 'certificate_confirmation: history is not deleted'); END;
CREATE TRIGGER certificate_revocation_is_not_altered BEFORE UPDATE ON certificate_revocation BEGIN SELECT RAISE(ABORT, 'certificate_revocation: history is not altered'); END;
CREATE TRIGGER certificate_revocation_is_not_deleted BEFORE DELETE ON certificate_revocation BEGIN SELECT RAISE(ABORT, 'certificate_revocation: history is not deleted'); END;
