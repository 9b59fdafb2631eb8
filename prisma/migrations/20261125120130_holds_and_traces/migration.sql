-- Holds that the database keeps, and which batch gave to which: see docs/accounting.md §9.

-- What went from one batch into another: overs, or all that lay there.
CREATE VIEW batch_link AS
  SELECT 'overs'::text AS kind, from_batch_id AS giver_id, batch_id AS taker_id, occurred_at, mass_g::bigint AS mass_g
    FROM amendment WHERE from_batch_id IS NOT NULL AND voided_at IS NULL
  UNION ALL
  SELECT 'merge', from_batch_id, batch_id, occurred_at, mass_g::bigint FROM batch_merge;

-- Whoever puts a batch on hold waits for what is leaving it right now, and whatever comes after waits for the hold.
CREATE FUNCTION batch_hold_waits() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM batch WHERE id = NEW.batch_id FOR UPDATE;
  RETURN NEW;
END $$;
CREATE TRIGGER batch_hold_waits BEFORE INSERT ON batch_hold FOR EACH ROW EXECUTE FUNCTION batch_hold_waits();

-- By their names these run after the triggers that look at the stage, which hold the batch still.
CREATE FUNCTION require_unheld(of_batch uuid) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM batch WHERE id = of_batch FOR SHARE;
  IF EXISTS (SELECT 1 FROM batch_hold WHERE batch_id = of_batch AND lifted_at IS NULL) THEN
    RAISE EXCEPTION 'the batch is on hold: nothing of it is released, handed out or put into another batch'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_on_hold';
  END IF;
END $$;

CREATE FUNCTION batch_unheld() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM require_unheld(NEW.batch_id);
  RETURN NEW;
END $$;
CREATE TRIGGER release_unheld BEFORE INSERT ON release FOR EACH ROW EXECUTE FUNCTION batch_unheld();
CREATE TRIGGER distribution_unheld BEFORE INSERT ON distribution FOR EACH ROW EXECUTE FUNCTION batch_unheld();

CREATE FUNCTION overs_unheld() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM require_unheld(NEW.from_batch_id);
  RETURN NEW;
END $$;
CREATE TRIGGER overs_unheld BEFORE INSERT ON amendment
  FOR EACH ROW WHEN (NEW.from_batch_id IS NOT NULL) EXECUTE FUNCTION overs_unheld();
