-- The entry that made a later revision (a correction, a void, a reject pulled): an entry sent again is known by its
-- id, and must not pull the same reject twice. The first revision is known by the id of the drop-off itself.
ALTER TABLE drop_off_revision ADD COLUMN entry_id UUID, ADD COLUMN entry_sha256 BYTEA;
ALTER TABLE drop_off_revision
  ADD CONSTRAINT drop_off_revision_entry CHECK ((entry_id IS NULL) = (entry_sha256 IS NULL));
CREATE UNIQUE INDEX drop_off_revision_entry_unique ON drop_off_revision (entry_id) WHERE entry_id IS NOT NULL;
