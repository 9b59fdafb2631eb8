-- More of the rules that must not break, held by the database itself: see docs/design.md §4.

-- ---------------------------------------------------------------------------------------------------------
-- Whoever is named in a record is somebody.

ALTER TABLE "shift" ADD CONSTRAINT "shift_closed_by_fk" FOREIGN KEY ("closed_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "release" ADD CONSTRAINT "release_signed_by_fk" FOREIGN KEY ("signed_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "sealed_document" ADD CONSTRAINT "sealed_document_sealed_by_fk" FOREIGN KEY ("sealed_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "audit_event" ADD CONSTRAINT "audit_event_person_fk" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "refusal" ADD CONSTRAINT "refusal_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "assignment" ADD CONSTRAINT "assignment_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "amendment" ADD CONSTRAINT "amendment_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "batch_check" ADD CONSTRAINT "batch_check_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "turn" ADD CONSTRAINT "turn_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "watering" ADD CONSTRAINT "watering_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "sample" ADD CONSTRAINT "sample_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "screening" ADD CONSTRAINT "screening_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "distribution" ADD CONSTRAINT "distribution_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- ---------------------------------------------------------------------------------------------------------
-- Words: the same as in the code, which tests/unit/database/catalogue.test.ts holds.

ALTER TABLE drop_off_revision
  ADD CONSTRAINT drop_off_revision_depositor CHECK (
    depositor IN ('household', 'business', 'school', 'institution', 'public-works', 'landscaper', 'garden', 'other'));
ALTER TABLE drop_off_reject
  ADD CONSTRAINT drop_off_reject_contaminant CHECK (
    contaminant IN ('film-plastic', 'rigid-plastic', 'compostable-plastic', 'foam', 'glass', 'metal', 'coated-paper',
                    'textiles', 'treated-wood', 'stones-and-soil', 'pet-waste', 'meat-and-fat', 'sprayed-plants',
                    'diseased-plants', 'hazardous', 'mixed', 'other')),
  ADD CONSTRAINT drop_off_reject_went_to CHECK (
    went_to IN ('landfill', 'recycling', 'returned', 'other-composting'));
ALTER TABLE refusal
  ADD CONSTRAINT refusal_contaminant CHECK (
    contaminant IN ('film-plastic', 'rigid-plastic', 'compostable-plastic', 'foam', 'glass', 'metal', 'coated-paper',
                    'textiles', 'treated-wood', 'stones-and-soil', 'pet-waste', 'meat-and-fat', 'sprayed-plants',
                    'diseased-plants', 'hazardous', 'mixed', 'other'));
ALTER TABLE screening
  ADD CONSTRAINT screening_residue_went_to CHECK (
    residue_went_to IN ('landfill', 'recycling', 'other-composting'));
ALTER TABLE distribution
  ADD CONSTRAINT distribution_recipient CHECK (
    recipient IN ('household', 'community-garden', 'school', 'farm', 'public-works', 'landscaper', 'own-programme',
                  'other')),
  ADD CONSTRAINT distribution_use CHECK (
    use IN ('vegetable-beds', 'ornamental-beds', 'lawns', 'trees', 'field-crops', 'potting-mix', 'soil-repair',
            'other'));
ALTER TABLE amendment
  ADD CONSTRAINT amendment_overs CHECK ((source = 'overs') = (from_batch_id IS NOT NULL));

-- ---------------------------------------------------------------------------------------------------------
-- What records refer to is changed or retired, and never taken away. What a person may do, and what a permit allows,
-- are replaced as lists and stay free.

DO $$
DECLARE kept text;
BEGIN
  FOREACH kept IN ARRAY ARRAY['jurisdiction', 'site', 'bay', 'permit', 'material', 'container', 'instrument', 'person']
  LOOP
    EXECUTE format('CREATE TRIGGER settings_stay_rows BEFORE DELETE ON %I FOR EACH ROW
                    EXECUTE FUNCTION records_keep()', kept);
    EXECUTE format('CREATE TRIGGER settings_stay_table BEFORE TRUNCATE ON %I FOR EACH STATEMENT
                    EXECUTE FUNCTION records_keep()', kept);
  END LOOP;
END $$;

-- ---------------------------------------------------------------------------------------------------------
-- Order in time: what a stage or a signature closes had happened by then.

ALTER TABLE release ADD COLUMN recorded_at TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP;

-- The latest of each kind of record of a batch that stands.
CREATE FUNCTION batch_latest(of_batch uuid) RETURNS TABLE (what text, is_input boolean, at timestamptz)
LANGUAGE sql STABLE AS $$
  SELECT * FROM (
    SELECT 'an assignment', true, max(occurred_at) FROM assignment WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'an amendment', true, max(occurred_at) FROM amendment WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a check', false, max(occurred_at) FROM batch_check WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a turn', false, max(occurred_at) FROM turn WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a move', false, max(from_at) FROM bay_stay WHERE batch_id = of_batch
    UNION ALL
    SELECT 'a watering', false, max(occurred_at) FROM watering WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a sample', false, max(occurred_at) FROM sample WHERE batch_id = of_batch AND voided_at IS NULL
    UNION ALL
    SELECT 'a screening', false, max(occurred_at) FROM screening WHERE batch_id = of_batch AND voided_at IS NULL
  ) AS latest (what, is_input, at)
  WHERE at IS NOT NULL
$$;

CREATE FUNCTION release_after_records() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  later text;
BEGIN
  SELECT what INTO later FROM batch_latest(NEW.batch_id) WHERE at > NEW.signed_at ORDER BY at DESC LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION '% of the batch is later than the signature', later
      USING ERRCODE = 'check_violation', CONSTRAINT = 'release_after_records';
  END IF;
  RETURN NEW;
END $$;
-- By its name it runs after release_open, which holds the batch still.
CREATE TRIGGER release_open_after_records BEFORE INSERT ON release
  FOR EACH ROW EXECUTE FUNCTION release_after_records();

-- As before, and no stage that closes the building is entered before what was built in.
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
       WHEN now_in IN ('condemned', 'emptied') THEN false
       WHEN NEW.stage = 'condemned' THEN now_in IN ('building', 'active', 'curing')
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
  RETURN NEW;
END $$;

-- ---------------------------------------------------------------------------------------------------------
-- Closed records: what belongs to them comes with them or not at all.

-- The lot first, then its batches: whoever assigns it holds the batch shared, as this does, and nobody else takes both.
-- A batch that is being judged for its release is held by that, and a correction waits until it is sealed.
CREATE OR REPLACE FUNCTION drop_off_revise() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  last drop_off_revision;
  left_over bigint;
BEGIN
  PERFORM 1 FROM drop_off WHERE id = NEW.drop_off_id FOR UPDATE;
  PERFORM 1 FROM batch
    WHERE id IN (SELECT batch_id FROM assignment WHERE drop_off_id = NEW.drop_off_id AND voided_at IS NULL)
    ORDER BY id FOR SHARE;
  SELECT * INTO last FROM drop_off_revision WHERE drop_off_id = NEW.drop_off_id AND superseded_by IS NULL;
  IF last.revision IS DISTINCT FROM NEW.revision - 1 THEN
    RAISE EXCEPTION 'revision % does not follow revision %', NEW.revision, last.revision
      USING ERRCODE = 'check_violation', CONSTRAINT = 'drop_off_revision_follows';
  END IF;
  IF last.voided THEN
    RAISE EXCEPTION 'a voided drop-off is not revised'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'drop_off_not_voided';
  END IF;
  left_over := CASE WHEN NEW.voided THEN 0 ELSE NEW.accepted_g END - drop_off_assigned_g(NEW.drop_off_id);
  IF left_over < 0 THEN
    RAISE EXCEPTION '% g more are already in batches than this revision accepts', -left_over
      USING ERRCODE = 'check_violation', CONSTRAINT = 'drop_off_covers_assignments';
  END IF;
  IF (NEW.material_code, NEW.jurisdiction_id, NEW.basis, NEW.occurred_at, NEW.rejected_g) IS DISTINCT FROM
     (last.material_code, last.jurisdiction_id, last.basis, last.occurred_at, last.rejected_g)
     AND EXISTS (SELECT 1 FROM assignment WHERE drop_off_id = NEW.drop_off_id AND voided_at IS NULL
                 AND batch_stage_of(batch_id) IN ('released', 'emptied', 'condemned')) THEN
    RAISE EXCEPTION 'the drop-off is in a batch whose record is closed: material, jurisdiction, basis, time and rejects stay'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_not_released';
  END IF;
  UPDATE drop_off_revision SET superseded_by = NEW.revision
    WHERE drop_off_id = NEW.drop_off_id AND revision = last.revision;
  RETURN NEW;
END $$;

CREATE FUNCTION drop_off_rejects_add_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  missing bigint;
BEGIN
  SELECT r.rejected_g - coalesce(sum(x.mass_g), 0) INTO missing
    FROM drop_off_revision r LEFT JOIN drop_off_reject x USING (drop_off_id, revision)
    WHERE r.drop_off_id = NEW.drop_off_id AND r.revision = NEW.revision GROUP BY r.rejected_g;
  IF missing <> 0 THEN
    RAISE EXCEPTION 'the rejects of this revision are % g off from what it says was rejected', missing
      USING ERRCODE = 'check_violation', CONSTRAINT = 'drop_off_rejects_add_up';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER drop_off_revision_rejects AFTER INSERT ON drop_off_revision
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.rejected_g > 0) EXECUTE FUNCTION drop_off_rejects_add_up();
CREATE CONSTRAINT TRIGGER drop_off_reject_revision AFTER INSERT ON drop_off_reject
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION drop_off_rejects_add_up();

CREATE FUNCTION check_reading_open() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM require_stage(c.batch_id, ARRAY['building', 'active', 'curing'], 'batch_not_released')
    FROM batch_check c WHERE c.id IN (SELECT check_id FROM added);
  RETURN NULL;
END $$;
CREATE TRIGGER check_reading_open AFTER INSERT ON check_reading REFERENCING NEW TABLE AS added
  FOR EACH STATEMENT EXECUTE FUNCTION check_reading_open();

CREATE TRIGGER bay_stay_open BEFORE INSERT ON bay_stay
  FOR EACH ROW EXECUTE FUNCTION batch_open('building,active,curing', 'batch_not_released');

-- Compost leaves a released batch; that it did so by mistake may be seen when the batch is empty.
DROP TRIGGER distribution_open ON distribution;
CREATE TRIGGER distribution_open BEFORE INSERT ON distribution
  FOR EACH ROW EXECUTE FUNCTION batch_open('released', 'batch_is_released');
CREATE TRIGGER distribution_void_open BEFORE UPDATE ON distribution
  FOR EACH ROW EXECUTE FUNCTION batch_open('released,emptied', 'batch_is_released');

-- ---------------------------------------------------------------------------------------------------------
-- An id of version 7 (RFC 9562 §5.7: 48 bits of milliseconds, then random ones) for rows that are made by a
-- statement; uuidv7() is there only from PostgreSQL 18 on.
CREATE FUNCTION id_v7() RETURNS uuid LANGUAGE sql VOLATILE AS $$
  SELECT encode(
    set_bit(set_bit(
      overlay(uuid_send(gen_random_uuid())
        PLACING substring(int8send((extract(epoch FROM clock_timestamp()) * 1000)::bigint) FROM 3) FROM 1 FOR 6),
      52, 1), 53, 1),
    'hex')::uuid
$$;
