-- As before; and of two inputs that are taken back at once the second waits for the first, and is weighed without it. They
-- share their hold of the batch (batch_open), so it alone does not keep them apart.
CREATE OR REPLACE FUNCTION batch_covers_outputs() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  beyond bigint;
BEGIN
  PERFORM pg_advisory_xact_lock(hashtextextended('inputs-of:' || NEW.batch_id, 0));
  SELECT sum(CASE direction WHEN 'out' THEN mass_g ELSE -mass_g END) INTO beyond
    FROM batch_flow WHERE batch_id = NEW.batch_id;
  IF beyond > 0 THEN
    RAISE EXCEPTION '% g more have come out of the batch than would have gone in', beyond
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_covers_outputs';
  END IF;
  RETURN NULL;
END $$;
