-- Who brought a party in, and so knows of it before there is a title of both.

ALTER TABLE party ADD COLUMN by_person_id TEXT REFERENCES person;
CREATE INDEX party_brought_in ON party (by_person_id);
