-- Of sheets that came as one plate for each ink: their sides with all inks, as pages of a file that was put together here.

ALTER TABLE folded_book ADD COLUMN sides_blob TEXT REFERENCES reading;
