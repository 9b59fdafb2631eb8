-- Where a lot lies, and what that lets be done with it: a haul takes whole lots of its hub, what is on the road goes into no
-- batch, and what was weighed with a whole haul weighs that as long as the receipt stands.

-- The haul that a lot went with, if that stands; it goes with one at most.
CREATE VIEW lot_on_haul AS
  SELECT l.drop_off_id, h.id AS haul_id, h.to_site_id, h.elsewhere, p.id AS receipt_id, p.occurred_at AS received_at
  FROM haul_lot l JOIN haul h ON h.id = l.haul_id AND h.voided_at IS NULL
  LEFT JOIN haul_receipt p ON p.haul_id = h.id AND p.voided_at IS NULL;

-- As before, with the receipt at which a lot had its mass.
CREATE OR REPLACE VIEW drop_off_now AS
  SELECT r.drop_off_id, r.revision, r.site_id, r.occurred_at, r.material_code, r.jurisdiction_id, r.depositor, r.basis,
    r.gross_g, r.tare_g, r.net_g, r.rejected_g, r.accepted_g, r.volume_ml, r.density_kg_m3, r.density_source,
    r.container_id, r.instrument_id, r.note, r.entered, r.warnings, r.voided, r.reason, r.superseded_by, r.recorded_at,
    r.recorded_by, d.shift_id, d.import_id,
    (SELECT coalesce(sum(a.mass_g), 0)::bigint FROM assignment a
     WHERE a.drop_off_id = r.drop_off_id AND a.voided_at IS NULL) AS assigned_g,
    r.haul_receipt_id
  FROM drop_off_revision r JOIN drop_off d ON d.id = r.drop_off_id
  WHERE r.superseded_by IS NULL;

-- Whoever moves or assigns lots that lie at these sites next waits until this is committed, so that two who reach for the
-- same lots share them out instead of one of them failing. Intake does not wait.
CREATE FUNCTION lock_lots_at(sites uuid[]) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_advisory_xact_lock(hashtextextended('lots-of:' || site, 0))
    FROM (SELECT DISTINCT unnest(sites)::text AS site ORDER BY site) AS places;
END $$;

-- ---------------------------------------------------------------------------------------------------------
-- What goes with a haul

CREATE FUNCTION haul_lot_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  lot drop_off_revision;
BEGIN
  PERFORM 1 FROM drop_off WHERE id = NEW.drop_off_id FOR UPDATE;
  SELECT * INTO lot FROM drop_off_revision WHERE drop_off_id = NEW.drop_off_id AND superseded_by IS NULL;
  IF NOT EXISTS (SELECT FROM haul WHERE id = NEW.haul_id AND site_id = lot.site_id) THEN
    RAISE EXCEPTION 'a haul takes drop-offs of the hub that it leaves'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'haul_lot_of_hub';
  END IF;
  IF lot.voided THEN
    RAISE EXCEPTION 'a voided drop-off goes nowhere'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'drop_off_not_voided';
  END IF;
  IF drop_off_assigned_g(NEW.drop_off_id) > 0 THEN
    RAISE EXCEPTION 'a drop-off goes whole, and this one is in a batch'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'haul_lot_whole';
  END IF;
  IF EXISTS (SELECT FROM lot_on_haul WHERE drop_off_id = NEW.drop_off_id) THEN
    RAISE EXCEPTION 'the drop-off went with another haul'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'haul_lot_once';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER haul_lot_fits BEFORE INSERT ON haul_lot FOR EACH ROW EXECUTE FUNCTION haul_lot_fits();

CREATE FUNCTION haul_void_fits() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM haul_receipt WHERE haul_id = NEW.id AND voided_at IS NULL) THEN
    RAISE EXCEPTION 'the haul came in: void its receipt first'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'haul_not_received';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER haul_void_fits BEFORE UPDATE ON haul FOR EACH ROW EXECUTE FUNCTION haul_void_fits();

CREATE FUNCTION haul_receipt_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  sent haul;
BEGIN
  SELECT * INTO sent FROM haul WHERE id = NEW.haul_id FOR UPDATE;
  IF sent.voided_at IS NOT NULL THEN
    RAISE EXCEPTION 'the haul is voided' USING ERRCODE = 'check_violation', CONSTRAINT = 'haul_stands';
  END IF;
  IF sent.to_site_id IS NULL THEN
    RAISE EXCEPTION 'the haul went to somebody else, and no yard receives it'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'haul_to_a_yard';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER haul_receipt_fits BEFORE INSERT ON haul_receipt FOR EACH ROW EXECUTE FUNCTION haul_receipt_fits();

-- The lots are held first: whoever assigns one waits, and is refused then.
CREATE FUNCTION haul_receipt_void_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  in_batches bigint;
BEGIN
  PERFORM 1 FROM drop_off WHERE id IN (SELECT drop_off_id FROM haul_lot WHERE haul_id = NEW.haul_id) ORDER BY id FOR UPDATE;
  SELECT count(DISTINCT a.drop_off_id) INTO in_batches
    FROM haul_lot l JOIN assignment a ON a.drop_off_id = l.drop_off_id AND a.voided_at IS NULL WHERE l.haul_id = NEW.haul_id;
  IF in_batches > 0 THEN
    RAISE EXCEPTION 'drop-offs of the haul are in batches (%): void those assignments first', in_batches
      USING ERRCODE = 'check_violation', CONSTRAINT = 'haul_receipt_unassigned';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER haul_receipt_void_fits BEFORE UPDATE ON haul_receipt
  FOR EACH ROW EXECUTE FUNCTION haul_receipt_void_fits();

-- ---------------------------------------------------------------------------------------------------------
-- Shares of a haul's weight

ALTER TABLE drop_off_revision ADD CONSTRAINT drop_off_share_later CHECK (basis <> 'haul' OR revision > 1);

-- By its name it runs after drop_off_revise, which holds the lot still.
CREATE FUNCTION drop_off_revise_share() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  last drop_off_revision;
BEGIN
  SELECT * INTO last FROM drop_off_revision WHERE drop_off_id = NEW.drop_off_id AND revision = NEW.revision - 1;
  IF last.basis = 'haul'
     AND (NEW.voided OR (NEW.basis, NEW.haul_receipt_id, NEW.net_g, NEW.volume_ml)
                        IS DISTINCT FROM (last.basis, last.haul_receipt_id, last.net_g, last.volume_ml))
     AND EXISTS (SELECT FROM haul_receipt WHERE id = last.haul_receipt_id AND voided_at IS NULL) THEN
    RAISE EXCEPTION 'the drop-off was weighed with its whole haul: void that receipt first, or its shares would not make the whole'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'drop_off_share_stands';
  END IF;
  IF NEW.basis = 'haul' AND NOT EXISTS (
       SELECT FROM lot_on_haul WHERE drop_off_id = NEW.drop_off_id AND receipt_id = NEW.haul_receipt_id) THEN
    RAISE EXCEPTION 'the drop-off did not come in with that receipt'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'drop_off_share_of_haul';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER drop_off_revise_share BEFORE INSERT ON drop_off_revision
  FOR EACH ROW WHEN (NEW.revision > 1) EXECUTE FUNCTION drop_off_revise_share();

-- Whoever voids a receipt takes back its shares in the same transaction.
CREATE FUNCTION haul_shares_taken_back() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM drop_off_revision WHERE haul_receipt_id = NEW.id AND superseded_by IS NULL) THEN
    RAISE EXCEPTION 'drop-offs have their mass of this receipt still'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'haul_shares_taken_back';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER haul_shares_taken_back AFTER UPDATE ON haul_receipt
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION haul_shares_taken_back();

-- ---------------------------------------------------------------------------------------------------------
-- As before; and what is assigned lies at its hub, or was received at the yard of the batch.
CREATE OR REPLACE FUNCTION assignment_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  accepted bigint;
  haul lot_on_haul;
BEGIN
  PERFORM require_stage(NEW.batch_id, ARRAY['building'], 'batch_is_building');
  IF TG_OP = 'UPDATE' THEN RETURN NEW; END IF;
  PERFORM 1 FROM drop_off WHERE id = NEW.drop_off_id FOR UPDATE;
  SELECT * INTO haul FROM lot_on_haul WHERE drop_off_id = NEW.drop_off_id;
  IF FOUND AND (haul.receipt_id IS NULL OR haul.to_site_id <> (SELECT site_id FROM batch WHERE id = NEW.batch_id)) THEN
    RAISE EXCEPTION '%', CASE WHEN haul.elsewhere IS NOT NULL THEN 'the drop-off is composted by somebody else'
                              WHEN haul.receipt_id IS NULL THEN 'the drop-off is on the road: its haul was not received yet'
                              ELSE 'the drop-off was received at another yard' END
      USING ERRCODE = 'check_violation', CONSTRAINT = 'assignment_lies_here';
  END IF;
  SELECT CASE WHEN voided THEN 0 ELSE accepted_g END INTO accepted FROM drop_off_revision
    WHERE drop_off_id = NEW.drop_off_id AND superseded_by IS NULL;
  IF drop_off_assigned_g(NEW.drop_off_id) + NEW.mass_g > coalesce(accepted, 0) THEN
    RAISE EXCEPTION 'only % g of this drop-off are left to assign',
      greatest(coalesce(accepted, 0) - drop_off_assigned_g(NEW.drop_off_id), 0)
      USING ERRCODE = 'check_violation', CONSTRAINT = 'assignment_within_accepted';
  END IF;
  RETURN NEW;
END $$;
