-- What lies there may be measured as long as anything does.
CREATE TRIGGER pile_measurement_open BEFORE INSERT OR UPDATE ON pile_measurement
  FOR EACH ROW EXECUTE FUNCTION batch_open('building,active,curing,released,condemned', 'batch_lies_there');

-- What was condemned went somewhere: it is told as residue, or as overs to be worked again, and never as compost. A
-- screening of before may be taken back then as well, and told as what became of it.
CREATE FUNCTION screening_open() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM require_stage(NEW.batch_id, ARRAY['curing', 'condemned'], 'batch_takes_screenings');
  IF TG_OP = 'INSERT' AND NEW.compost_g > 0 AND batch_stage_of(NEW.batch_id) = 'condemned' THEN
    RAISE EXCEPTION 'a condemned batch gives no compost: tell what became of it as residue or overs'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'condemned_gives_no_compost';
  END IF;
  RETURN NEW;
END $$;
DROP TRIGGER screening_open ON screening;
CREATE TRIGGER screening_open BEFORE INSERT OR UPDATE ON screening
  FOR EACH ROW EXECUTE FUNCTION screening_open();

-- What came out had gone in: an input is not taken back from under it. Whoever takes something out holds the batch while it
-- is weighed (apps/api/release/outputs), and a void shares that hold (batch_open), so that the two wait for each other.
CREATE FUNCTION batch_covers_outputs() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  beyond bigint;
BEGIN
  SELECT sum(CASE direction WHEN 'out' THEN mass_g ELSE -mass_g END) INTO beyond
    FROM batch_flow WHERE batch_id = NEW.batch_id;
  IF beyond > 0 THEN
    RAISE EXCEPTION '% g more have come out of the batch than would have gone in', beyond
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_covers_outputs';
  END IF;
  RETURN NULL;
END $$;
DO $$
DECLARE
  input text;
BEGIN
  FOREACH input IN ARRAY ARRAY['assignment', 'amendment', 'watering'] LOOP
    EXECUTE format('CREATE TRIGGER %I AFTER UPDATE ON %I
                    FOR EACH ROW WHEN (OLD.voided_at IS NULL AND NEW.voided_at IS NOT NULL)
                    EXECUTE FUNCTION batch_covers_outputs()', input || '_void_covers_outputs', input);
  END LOOP;
END $$;
