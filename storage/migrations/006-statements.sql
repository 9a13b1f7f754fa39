-- Certificates, what was signed with them, and what it was about.

CREATE TABLE certificate (
  -- SHA-256 of the certificate as DER
  fingerprint TEXT PRIMARY KEY CHECK (length(fingerprint) = 64 AND fingerprint NOT GLOB '*[^0-9a-f]*'),
  party_id TEXT NOT NULL REFERENCES party,
  person_id TEXT NOT NULL,
  der BLOB NOT NULL CHECK (length(der) > 0),
  introduced_ms INTEGER NOT NULL CHECK (introduced_ms >= 0),
  FOREIGN KEY (party_id, person_id) REFERENCES person (party_id, id)
) STRICT;
CREATE INDEX certificate_of_person ON certificate (person_id);

CREATE TABLE statement (
  -- SHA-256 of its bytes and signature, so that two may say the same
  id TEXT PRIMARY KEY CHECK (length(id) = 64 AND id NOT GLOB '*[^0-9a-f]*'),
  kind TEXT NOT NULL CHECK (kind IN
    ('key-confirmation', 'sign-off', 'ruling', 'release', 'revocation', 'withdrawal', 'replacement')),
  -- null: about a certificate alone
  title_id TEXT REFERENCES title,
  part_id TEXT,
  certificate TEXT NOT NULL REFERENCES certificate,
  -- SHA-256 of the bytes that were signed: nobody says the same twice
  bytes_hash TEXT NOT NULL CHECK (length(bytes_hash) = 64 AND bytes_hash NOT GLOB '*[^0-9a-f]*'),
  bytes BLOB NOT NULL CHECK (length(bytes) > 0),
  signature BLOB NOT NULL CHECK (length(signature) > 0),
  log_index INTEGER NOT NULL UNIQUE REFERENCES log_entry,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  UNIQUE (certificate, bytes_hash),
  FOREIGN KEY (title_id, part_id) REFERENCES part (title_id, id),
  CHECK (part_id IS NULL OR title_id IS NOT NULL),
  CHECK (kind IN ('key-confirmation', 'revocation') OR part_id IS NOT NULL)
) STRICT;
CREATE INDEX statement_of_part ON statement (part_id, kind);
CREATE INDEX statement_of_title ON statement (title_id, log_index);

CREATE TABLE statement_subject (
  statement TEXT NOT NULL REFERENCES statement,
  kind TEXT NOT NULL CHECK (kind IN ('file', 'report', 'finding', 'certificate', 'statement')),
  subject TEXT NOT NULL CHECK (subject <> ''),
  PRIMARY KEY (statement, kind, subject)
) STRICT, WITHOUT ROWID;
CREATE INDEX statement_about ON statement_subject (kind, subject);

CREATE TABLE ruling (
  statement TEXT NOT NULL REFERENCES statement,
  finding_id TEXT NOT NULL REFERENCES finding,
  decision TEXT NOT NULL CHECK (decision IN ('agreed', 'to-be-put-right')),
  account TEXT NOT NULL CHECK (account IN ('authors-alteration', 'printers-error', 'shared', 'not-settled')),
  PRIMARY KEY (statement, finding_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX ruling_on_finding ON ruling (finding_id);
CREATE TRIGGER rulings_are_stated BEFORE INSERT ON ruling
  WHEN NOT EXISTS (SELECT 1 FROM statement JOIN finding USING (part_id)
    WHERE statement.id = NEW.statement AND statement.kind = 'ruling' AND finding.id = NEW.finding_id)
  BEGIN SELECT RAISE(ABORT, 'ruling: not of a ruling statement on this part'); END;

-- Each other party pins a certificate for itself.
CREATE TABLE certificate_confirmation (
  certificate TEXT NOT NULL REFERENCES certificate,
  by_party_id TEXT NOT NULL REFERENCES party,
  statement TEXT NOT NULL UNIQUE REFERENCES statement,
  PRIMARY KEY (certificate, by_party_id)
) STRICT;
CREATE TRIGGER certificates_are_confirmed_by_another BEFORE INSERT ON certificate_confirmation
  WHEN NOT EXISTS (SELECT 1 FROM statement JOIN certificate AS signer ON signer.fingerprint = statement.certificate
      WHERE statement.id = NEW.statement AND statement.kind = 'key-confirmation' AND signer.party_id = NEW.by_party_id)
    OR (SELECT party_id FROM certificate WHERE fingerprint = NEW.certificate) = NEW.by_party_id
  BEGIN SELECT RAISE(ABORT, 'certificate_confirmation: not stated by another party'); END;

CREATE TABLE certificate_revocation (
  certificate TEXT PRIMARY KEY REFERENCES certificate,
  statement TEXT NOT NULL UNIQUE REFERENCES statement,
  -- signatures from this moment on are refused
  from_ms INTEGER NOT NULL CHECK (from_ms >= 0)
) STRICT;
CREATE TRIGGER certificates_are_revoked_by_their_party BEFORE INSERT ON certificate_revocation
  WHEN NOT EXISTS (SELECT 1 FROM statement
      JOIN certificate AS signer ON signer.fingerprint = statement.certificate
      JOIN certificate AS revoked ON revoked.fingerprint = NEW.certificate
      WHERE statement.id = NEW.statement AND statement.kind = 'revocation' AND signer.party_id = revoked.party_id)
  BEGIN SELECT RAISE(ABORT, 'certificate_revocation: not stated by its own party'); END;
CREATE TRIGGER revoked_certificates_are_not_confirmed BEFORE INSERT ON certificate_confirmation
  WHEN EXISTS (SELECT 1 FROM certificate_revocation WHERE certificate = NEW.certificate)
  BEGIN SELECT RAISE(ABORT, 'certificate_confirmation: revoked'); END;

CREATE TRIGGER certificate_is_not_altered BEFORE UPDATE ON certificate BEGIN SELECT RAISE(ABORT, 'certificate: history is not altered'); END;
CREATE TRIGGER certificate_is_not_deleted BEFORE DELETE ON certificate BEGIN SELECT RAISE(ABORT, 'certificate: history is not deleted'); END;
CREATE TRIGGER statement_is_not_altered BEFORE UPDATE ON statement BEGIN SELECT RAISE(ABORT, 'statement: history is not altered'); END;
CREATE TRIGGER statement_is_not_deleted BEFORE DELETE ON statement BEGIN SELECT RAISE(ABORT, 'statement: history is not deleted'); END;
CREATE TRIGGER statement_subject_is_not_altered BEFORE UPDATE ON statement_subject BEGIN SELECT RAISE(ABORT, 'statement_subject: history is not altered'); END;
CREATE TRIGGER statement_subject_is_not_deleted BEFORE DELETE ON statement_subject BEGIN SELECT RAISE(ABORT, 'statement_subject: history is not deleted'); END;
CREATE TRIGGER ruling_is_not_altered BEFORE UPDATE ON ruling BEGIN SELECT RAISE(ABORT, 'ruling: history is not altered'); END;
CREATE TRIGGER ruling_is_not_deleted BEFORE DELETE ON ruling BEGIN SELECT RAISE(ABORT, 'ruling: history is not deleted'); END;
CREATE TRIGGER certificate_confirmation_is_not_altered BEFORE UPDATE ON certificate_confirmation BEGIN SELECT RAISE(ABORT, 'certificate_confirmation: history is not altered'); END;
CREATE TRIGGER certificate_confirmation_is_not_deleted BEFORE DELETE ON certificate_confirmation BEGIN SELECT RAISE(ABORT, 'certificate_confirmation: history is not deleted'); END;
CREATE TRIGGER certificate_revocation_is_not_altered BEFORE UPDATE ON certificate_revocation BEGIN SELECT RAISE(ABORT, 'certificate_revocation: history is not altered'); END;
CREATE TRIGGER certificate_revocation_is_not_deleted BEFORE DELETE ON certificate_revocation BEGIN SELECT RAISE(ABORT, 'certificate_revocation: history is not deleted'); END;
