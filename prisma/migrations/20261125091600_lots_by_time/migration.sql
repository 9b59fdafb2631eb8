-- The lots of a whole programme, newest first: without it every page of such a list sorts all that was ever taken in.
CREATE INDEX drop_off_revision_by_time ON drop_off_revision (occurred_at, drop_off_id) WHERE superseded_by IS NULL;

-- What a volunteer recorded, who sees no more than that and their shift.
CREATE INDEX drop_off_revision_by_recorder ON drop_off_revision (recorded_by) WHERE revision = 1;
