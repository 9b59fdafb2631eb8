-- Batches that are put together: see docs/accounting.md §4. All that lies there of one batch goes into another of the same
-- yard, and its record is closed. No batch can come to be a part of itself, by whatever way: a batch gives by merging on, which
-- closes it, and by overs, for which it is screened; and nothing is merged into or out of one that was screened. So whatever
-- takes has not given yet.

ALTER TABLE batch_stage
  DROP CONSTRAINT batch_stage_known,
  ADD CONSTRAINT batch_stage_known
  CHECK (stage IN ('building', 'active', 'curing', 'released', 'emptied', 'condemned', 'merged'));

-- As before; merged is the last of all.
CREATE OR REPLACE FUNCTION stage_rank(stage text) RETURNS int LANGUAGE sql IMMUTABLE AS
$$ SELECT array_position(ARRAY['building', 'active', 'curing', 'released', 'emptied', 'merged'], stage) $$;

-- As before, with what was merged in and how big it was found to be.
CREATE OR REPLACE FUNCTION batch_latest(of_batch uuid) RETURNS TABLE (what text, is_input boolean, at timestamptz)
LANGUAGE sql STABLE AS $$
  SELECT * FROM (
    SELECT 'an assignment', true, max(occurred_at) FROM assignment WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'an amendment', true, max(occurred_at) FROM amendment WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a merge', true, max(occurred_at) FROM batch_merge WHERE batch_id = of_batch
    UNION ALL
    SELECT 'a check', false, max(occurred_at) FROM batch_check WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a turn', false, max(occurred_at) FROM turn WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a move', false, max(from_at) FROM bay_stay WHERE batch_id = of_batch
    UNION ALL
    SELECT 'a watering', false, max(occurred_at) FROM watering WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a pile measurement', false, max(occurred_at) FROM pile_measurement
      WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a sample', false, max(occurred_at) FROM sample WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a screening', false, max(occurred_at) FROM screening WHERE batch_id = of_batch AND voided_at IS NULL
  ) AS latest (what, is_input, at)
  WHERE at IS NOT NULL
$$;

-- As before, and merged on from any stage before release, by a merge.
CREATE OR REPLACE FUNCTION batch_stage_in_order() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  now_in text;
  last_at timestamptz;
  later text;
BEGIN
  PERFORM 1 FROM batch WHERE id = NEW.batch_id FOR UPDATE;
  now_in := batch_stage_of(NEW.batch_id);
  SELECT max(entered_at) INTO last_at FROM batch_stage WHERE batch_id = NEW.batch_id;
  IF NOT (CASE
       WHEN now_in IS NULL THEN NEW.stage = 'building'
       WHEN now_in IN ('condemned', 'emptied', 'merged') THEN false
       WHEN NEW.stage IN ('condemned', 'merged') THEN now_in IN ('building', 'active', 'curing')
       ELSE stage_rank(NEW.stage) = stage_rank(now_in) + 1
     END) THEN
    RAISE EXCEPTION 'a batch does not go from % to %', coalesce(now_in, 'nothing'), NEW.stage
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_stage_order';
  END IF;
  IF NEW.entered_at < last_at THEN
    RAISE EXCEPTION 'the stage before it began later'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_stage_time';
  END IF;
  SELECT what INTO later FROM batch_latest(NEW.batch_id) WHERE is_input AND at > NEW.entered_at ORDER BY at DESC LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION '% of the batch is later than that', later
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_stage_time';
  END IF;
  IF NEW.stage = 'released' AND NOT EXISTS (SELECT 1 FROM release WHERE batch_id = NEW.batch_id) THEN
    RAISE EXCEPTION 'a batch is released by a signature'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_release_signed';
  END IF;
  IF NEW.stage = 'merged' AND NOT EXISTS (SELECT 1 FROM batch_merge WHERE from_batch_id = NEW.batch_id) THEN
    RAISE EXCEPTION 'a batch is merged by a merge'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_stage_order';
  END IF;
  RETURN NEW;
END $$;

CREATE FUNCTION batch_merge_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  worked CONSTANT text[] := ARRAY['building', 'active', 'curing'];
  yards int;
  left_g bigint;
  later text;
BEGIN
  -- Both at once and in one order, so that two merges of the same two wait for each other.
  PERFORM 1 FROM batch WHERE id IN (NEW.batch_id, NEW.from_batch_id) ORDER BY id FOR UPDATE;
  PERFORM require_stage(NEW.batch_id, worked, 'batch_takes_merges');
  PERFORM require_stage(NEW.from_batch_id, worked, 'batch_merges_on');
  SELECT count(DISTINCT site_id) INTO yards FROM batch WHERE id IN (NEW.batch_id, NEW.from_batch_id);
  IF yards > 1 THEN
    RAISE EXCEPTION 'the two batches are of two yards'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_merge_one_yard';
  END IF;
  IF EXISTS (SELECT 1 FROM screening WHERE batch_id IN (NEW.batch_id, NEW.from_batch_id) AND voided_at IS NULL) THEN
    RAISE EXCEPTION 'what was screened is compost, overs and residue: nothing is merged into it or out of it'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_merge_unscreened';
  END IF;
  IF EXISTS (SELECT 1 FROM batch_hold WHERE batch_id = NEW.from_batch_id AND lifted_at IS NULL) THEN
    RAISE EXCEPTION 'the batch is on hold: it is not lost in another'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_on_hold';
  END IF;
  SELECT what INTO later FROM batch_latest(NEW.from_batch_id) WHERE at > NEW.occurred_at ORDER BY at DESC LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION '% of the batch that is merged is later than that', later
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_merge_after_records';
  END IF;
  SELECT coalesce(sum(CASE direction WHEN 'in' THEN mass_g ELSE -mass_g END), 0) INTO left_g
    FROM batch_flow WHERE batch_id = NEW.from_batch_id;
  IF NEW.mass_g > left_g OR (NEW.basis = 'records' AND NEW.mass_g <> left_g) THEN
    RAISE EXCEPTION '% g would be merged of a batch of which the records leave % g', NEW.mass_g, left_g
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_merge_within_batch';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER batch_merge_fits BEFORE INSERT ON batch_merge FOR EACH ROW EXECUTE FUNCTION batch_merge_fits();

-- What went has left its bay, and its record is closed.
CREATE FUNCTION batch_merge_closes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO batch_stage (batch_id, stage, entered_at, recorded_by)
    VALUES (NEW.from_batch_id, 'merged', NEW.occurred_at, NEW.recorded_by);
  UPDATE bay_stay SET to_at = NEW.occurred_at WHERE batch_id = NEW.from_batch_id AND to_at IS NULL;
  RETURN NULL;
END $$;
CREATE TRIGGER batch_merge_closes AFTER INSERT ON batch_merge FOR EACH ROW EXECUTE FUNCTION batch_merge_closes();

-- The batch in which a batch is now: itself, or where it was merged to, and where that was merged to.
CREATE FUNCTION batch_home(of_batch uuid) RETURNS uuid LANGUAGE sql STABLE AS $$
  WITH RECURSIVE way (batch_id, steps) AS (
    SELECT of_batch, 0
    UNION ALL
    SELECT m.batch_id, way.steps + 1 FROM way JOIN batch_merge m ON m.from_batch_id = way.batch_id)
  SELECT batch_id FROM way ORDER BY steps DESC LIMIT 1
$$;

-- What is told of a lot in a closed record stays told, though the lot came there through another batch. By its name it runs
-- after drop_off_revise, which holds the lot still.
CREATE FUNCTION drop_off_revise_merged() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  last drop_off_revision;
BEGIN
  PERFORM 1 FROM batch
    WHERE id IN (SELECT batch_home(batch_id) FROM assignment WHERE drop_off_id = NEW.drop_off_id AND voided_at IS NULL)
    ORDER BY id FOR SHARE;
  SELECT * INTO last FROM drop_off_revision WHERE drop_off_id = NEW.drop_off_id AND revision = NEW.revision - 1;
  IF (NEW.material_code, NEW.jurisdiction_id, NEW.basis, NEW.occurred_at, NEW.rejected_g) IS DISTINCT FROM
     (last.material_code, last.jurisdiction_id, last.basis, last.occurred_at, last.rejected_g)
     AND EXISTS (SELECT 1 FROM assignment WHERE drop_off_id = NEW.drop_off_id AND voided_at IS NULL
                 AND batch_stage_of(batch_home(batch_id)) IN ('released', 'emptied', 'condemned')) THEN
    RAISE EXCEPTION 'the drop-off is in a batch whose record is closed: material, jurisdiction, basis, time and rejects stay'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_not_released';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER drop_off_revise_merged BEFORE INSERT ON drop_off_revision
  FOR EACH ROW WHEN (NEW.revision > 1) EXECUTE FUNCTION drop_off_revise_merged();

-- As before; a merged record is closed as well.
CREATE OR REPLACE FUNCTION logger_set_aside_open() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  told_of uuid[];
  closed record;
BEGIN
  SELECT array_agg(x.batch_id) INTO told_of FROM (
    SELECT t.batch_id FROM device_target t
      WHERE t.batch_id IS NOT NULL AND t.device_id = NEW.device_id AND t.id = coalesce(NEW.target_id, t.id)
    UNION
    SELECT s.batch_id FROM device_target t JOIN bay_stay s ON s.bay_id = t.bay_id
      WHERE t.device_id = NEW.device_id AND t.id = coalesce(NEW.target_id, t.id)
        AND tstzrange(s.from_at, s.to_at) && tstzrange(NEW.from_at, NEW.to_at, '[]')) AS x;
  PERFORM 1 FROM batch b WHERE b.id = ANY (told_of) ORDER BY b.id FOR SHARE;
  SELECT b.code, closing.stage INTO closed
    FROM batch b
    JOIN batch_stage closing ON closing.batch_id = b.id AND closing.stage IN ('released', 'condemned', 'merged')
    WHERE b.id = ANY (told_of) AND b.occurred_at <= NEW.to_at AND closing.entered_at >= NEW.from_at
    ORDER BY b.id LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION 'readings of that span are of %, which is %', closed.code, closed.stage
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_not_released';
  END IF;
  RETURN NEW;
END $$;
