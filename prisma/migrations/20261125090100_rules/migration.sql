-- The rules that must not break, held by the database itself: see docs/design.md §4.
-- Each is named; apps/api/http/problems/constraints.ts turns the name into an answer.

CREATE EXTENSION IF NOT EXISTS btree_gist;

-- ---------------------------------------------------------------------------------------------------------
-- Values

ALTER TABLE person ADD CONSTRAINT person_email_lower CHECK (email = lower(email) AND email LIKE '%_@_%');

ALTER TABLE role_grant
  ADD CONSTRAINT role_grant_scope CHECK (
    CASE role
      WHEN 'volunteer' THEN site_id IS NOT NULL AND jurisdiction_id IS NULL
      WHEN 'operator' THEN site_id IS NOT NULL AND jurisdiction_id IS NULL
      WHEN 'manager' THEN site_id IS NOT NULL AND jurisdiction_id IS NULL
      WHEN 'coordinator' THEN site_id IS NULL AND jurisdiction_id IS NULL
      WHEN 'municipal-reader' THEN site_id IS NULL AND jurisdiction_id IS NOT NULL
      ELSE false
    END);
DROP INDEX role_grant_unique;
CREATE UNIQUE INDEX role_grant_unique ON role_grant (person_id, role, site_id, jurisdiction_id) NULLS NOT DISTINCT;

ALTER TABLE jurisdiction
  ADD CONSTRAINT jurisdiction_year_start CHECK (reporting_year_start ~ '^(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$');
ALTER TABLE site
  ADD CONSTRAINT site_purpose CHECK (takes_drop_offs OR runs_batches),
  ADD CONSTRAINT site_code_form CHECK (code ~ '^[A-Z0-9][A-Z0-9-]{0,11}$');
ALTER TABLE bay ADD CONSTRAINT bay_capacity_positive CHECK (capacity_ml > 0);
ALTER TABLE permit
  ADD CONSTRAINT permit_period CHECK (valid_to IS NULL OR valid_to >= valid_from),
  ADD CONSTRAINT permit_reading CHECK (process_reading IN ('consecutive', 'cumulative')),
  ADD CONSTRAINT permit_limits CHECK (
    cure_days BETWEEN 0 AND 730 AND minimum_probes BETWEEN 1 AND 100 AND longest_gap_hours BETWEEN 1 AND 168
    AND stored_volume_max_ml > 0 AND yearly_mass_max_g > 0),
  ADD CONSTRAINT permit_one_at_a_time EXCLUDE USING gist
    (site_id WITH =, daterange(valid_from, valid_to, '[]') WITH &&);
ALTER TABLE material
  ADD CONSTRAINT material_class CHECK (class IN ('nitrogen', 'carbon', 'neutral')),
  ADD CONSTRAINT material_code_form CHECK (code ~ '^[a-z0-9][a-z0-9-]{0,39}$'),
  ADD CONSTRAINT material_figures CHECK (
    nitrogen_percent_dry BETWEEN 0 AND 100 AND carbon_to_nitrogen > 0 AND moisture_percent BETWEEN 0 AND 100
    AND bulk_density_kg_m3 > 0);
ALTER TABLE container
  ADD CONSTRAINT container_tare CHECK (tare_g >= 0),
  ADD CONSTRAINT container_volume CHECK (volume_ml > 0);
ALTER TABLE instrument
  ADD CONSTRAINT instrument_kind CHECK (kind IN ('scale', 'thermometer')),
  ADD CONSTRAINT instrument_division CHECK (division_g > 0 AND resolution_deci_c > 0 AND verify_every_days > 0);

ALTER TABLE shift
  ADD CONSTRAINT shift_close CHECK (
    (closed_at IS NULL) = (closed_by IS NULL) AND (closed_at IS NULL OR closed_at >= opened_at)
    AND counted_lots >= 0);
CREATE UNIQUE INDEX shift_one_open ON shift (site_id) WHERE closed_at IS NULL;

ALTER TABLE drop_off_revision
  ADD CONSTRAINT drop_off_revision_basis CHECK (
    CASE basis
      WHEN 'scale' THEN volume_ml IS NULL AND density_kg_m3 IS NULL
      WHEN 'volume' THEN volume_ml > 0 AND density_kg_m3 > 0 AND density_source IS NOT NULL AND gross_g IS NULL
      ELSE false
    END),
  ADD CONSTRAINT drop_off_revision_net CHECK (
    net_g >= 0 AND (gross_g IS NULL) = (tare_g IS NULL) AND (gross_g IS NULL OR net_g = gross_g - tare_g)
    AND tare_g >= 0),
  ADD CONSTRAINT drop_off_revision_accepted CHECK (
    rejected_g >= 0 AND accepted_g >= 0 AND accepted_g = net_g - rejected_g),
  ADD CONSTRAINT drop_off_revision_order CHECK (revision >= 1 AND superseded_by = revision + 1),
  ADD CONSTRAINT drop_off_revision_reason CHECK (revision = 1 OR length(reason) > 0);
CREATE UNIQUE INDEX drop_off_revision_current ON drop_off_revision (drop_off_id) WHERE superseded_by IS NULL;
CREATE INDEX drop_off_revision_by_site ON drop_off_revision (site_id, occurred_at, drop_off_id)
  WHERE superseded_by IS NULL;
CREATE INDEX drop_off_revision_by_jurisdiction ON drop_off_revision (jurisdiction_id, occurred_at)
  WHERE superseded_by IS NULL AND NOT voided;
ALTER TABLE drop_off_reject ADD CONSTRAINT drop_off_reject_mass CHECK (mass_g > 0);
ALTER TABLE refusal ADD CONSTRAINT refusal_mass CHECK (mass_g > 0);

ALTER TABLE batch
  ADD CONSTRAINT batch_method CHECK (method IN ('turned-windrow', 'turned-bins', 'static-aerated', 'in-vessel'));
ALTER TABLE batch_stage
  ADD CONSTRAINT batch_stage_known
  CHECK (stage IN ('building', 'active', 'curing', 'released', 'emptied', 'condemned'));
ALTER TABLE bay_stay
  ADD CONSTRAINT bay_stay_period CHECK (to_at IS NULL OR to_at >= from_at),
  ADD CONSTRAINT bay_free EXCLUDE USING gist (bay_id WITH =, tstzrange(from_at, to_at) WITH &&),
  ADD CONSTRAINT bay_stay_one_bay EXCLUDE USING gist (batch_id WITH =, tstzrange(from_at, to_at) WITH &&);
ALTER TABLE assignment ADD CONSTRAINT assignment_mass CHECK (mass_g > 0);
ALTER TABLE amendment
  ADD CONSTRAINT amendment_mass CHECK (mass_g > 0),
  ADD CONSTRAINT amendment_source CHECK (
    source IN ('stock', 'overs', 'water') AND (from_batch_id IS NULL OR source = 'overs')
    AND from_batch_id IS DISTINCT FROM batch_id),
  ADD CONSTRAINT amendment_basis CHECK (
    CASE basis WHEN 'scale' THEN density_kg_m3 IS NULL WHEN 'volume' THEN volume_ml > 0 ELSE false END);

ALTER TABLE batch_check
  ADD CONSTRAINT batch_check_values CHECK (
    moisture IN ('dry', 'moist', 'wet') AND odour IN ('earthy', 'ammonia', 'sour', 'rotten', 'none')
    AND moisture_percent BETWEEN 0 AND 100 AND oxygen_percent BETWEEN 0 AND 100);
ALTER TABLE check_reading
  ADD CONSTRAINT check_reading_temperature CHECK (temperature_deci_c BETWEEN -600 AND 1500),
  ADD CONSTRAINT check_reading_depth CHECK (depth_mm BETWEEN 0 AND 10000);
ALTER TABLE watering ADD CONSTRAINT watering_volume CHECK (volume_ml > 0);
ALTER TABLE sample
  ADD CONSTRAINT sample_outcome CHECK (outcome IN ('passed', 'failed', 'information')),
  ADD CONSTRAINT sample_mass CHECK (mass_g >= 0);
ALTER TABLE screening
  ADD CONSTRAINT screening_masses CHECK (
    compost_g >= 0 AND overs_g >= 0 AND residue_g >= 0 AND compost_g + overs_g + residue_g > 0
    AND (residue_g = 0 OR residue_went_to IS NOT NULL));
ALTER TABLE distribution
  ADD CONSTRAINT distribution_mass CHECK (mass_g > 0),
  ADD CONSTRAINT distribution_basis CHECK (basis IN ('scale', 'volume'));
ALTER TABLE sealed_document
  ADD CONSTRAINT sealed_document_digest CHECK (seal = encode(sha256(convert_to(document, 'UTF8')), 'hex'));

DO $$
DECLARE kept text;
BEGIN
  FOREACH kept IN ARRAY ARRAY['refusal', 'assignment', 'amendment', 'batch_check', 'turn', 'watering', 'sample',
                              'screening', 'distribution'] LOOP
    EXECUTE format(
      'ALTER TABLE %I ADD CONSTRAINT %I CHECK ((voided_at IS NULL) = (voided_by IS NULL)
         AND (voided_at IS NULL) = (void_reason IS NULL))', kept, kept || '_void');
  END LOOP;
END $$;

-- ---------------------------------------------------------------------------------------------------------
-- Records keep: nothing is changed or deleted in place. The columns named with a trigger may be set, once.

CREATE FUNCTION records_keep() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  before jsonb;
  after jsonb;
  settable text;
BEGIN
  IF TG_OP <> 'UPDATE' THEN
    RAISE EXCEPTION '% keeps its rows: % is refused', TG_TABLE_NAME, TG_OP
      USING ERRCODE = 'check_violation', CONSTRAINT = 'records_keep';
  END IF;
  before := to_jsonb(OLD);
  after := to_jsonb(NEW);
  FOREACH settable IN ARRAY coalesce(TG_ARGV, ARRAY[]::text[]) LOOP
    IF before -> settable = 'null'::jsonb THEN
      after := after || jsonb_build_object(settable, NULL);
    END IF;
  END LOOP;
  IF before IS DISTINCT FROM after THEN
    RAISE EXCEPTION '% keeps its rows: a correction is a new one', TG_TABLE_NAME
      USING ERRCODE = 'check_violation', CONSTRAINT = 'records_keep';
  END IF;
  RETURN NEW;
END $$;

DO $$
DECLARE
  spec record;
BEGIN
  FOR spec IN
    SELECT * FROM (VALUES
      ('drop_off', ''),
      ('drop_off_revision', 'superseded_by'),
      ('drop_off_reject', ''),
      ('refusal', 'voided_at,voided_by,void_reason'),
      ('shift', 'closed_at,closed_by,counted_lots,closing_note'),
      ('batch', ''),
      ('batch_stage', ''),
      ('bay_stay', 'to_at'),
      ('assignment', 'voided_at,voided_by,void_reason'),
      ('amendment', 'voided_at,voided_by,void_reason'),
      ('batch_check', 'voided_at,voided_by,void_reason'),
      ('check_reading', ''),
      ('turn', 'voided_at,voided_by,void_reason'),
      ('watering', 'voided_at,voided_by,void_reason'),
      ('sample', 'voided_at,voided_by,void_reason'),
      ('screening', 'voided_at,voided_by,void_reason'),
      ('distribution', 'voided_at,voided_by,void_reason'),
      ('release', ''),
      ('sealed_document', ''),
      ('instrument_verification', ''),
      ('import', ''),
      ('audit_event', ''),
      ('audit_seal', '')
    ) AS t (kept, settable)
  LOOP
    EXECUTE format('CREATE TRIGGER records_keep_rows BEFORE UPDATE OR DELETE ON %I FOR EACH ROW
                    EXECUTE FUNCTION records_keep(%s)', spec.kept,
      (SELECT coalesce(string_agg(quote_literal(name), ', '), '')
         FROM unnest(string_to_array(nullif(spec.settable, ''), ',')) AS name));
    EXECUTE format('CREATE TRIGGER records_keep_table BEFORE TRUNCATE ON %I FOR EACH STATEMENT
                    EXECUTE FUNCTION records_keep()', spec.kept);
  END LOOP;
END $$;

-- ---------------------------------------------------------------------------------------------------------
-- Drop-offs: a revision follows the one before it, and never takes away what is already in a batch.

CREATE FUNCTION drop_off_assigned_g(lot uuid) RETURNS bigint LANGUAGE sql STABLE AS
$$ SELECT coalesce(sum(mass_g), 0)::bigint FROM assignment WHERE drop_off_id = lot AND voided_at IS NULL $$;

CREATE FUNCTION drop_off_revise() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  last drop_off_revision;
  left_over bigint;
BEGIN
  PERFORM 1 FROM drop_off WHERE id = NEW.drop_off_id FOR UPDATE;
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
  IF NEW.material_code <> last.material_code AND EXISTS (
       SELECT 1 FROM assignment a JOIN release r ON r.batch_id = a.batch_id
       WHERE a.drop_off_id = NEW.drop_off_id AND a.voided_at IS NULL) THEN
    RAISE EXCEPTION 'the material of a drop-off in a released batch is not changed'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_not_released';
  END IF;
  UPDATE drop_off_revision SET superseded_by = NEW.revision
    WHERE drop_off_id = NEW.drop_off_id AND revision = last.revision;
  RETURN NEW;
END $$;
CREATE TRIGGER drop_off_revise BEFORE INSERT ON drop_off_revision
  FOR EACH ROW WHEN (NEW.revision > 1) EXECUTE FUNCTION drop_off_revise();

-- ---------------------------------------------------------------------------------------------------------
-- Batches: one open stage, in order; inputs only while building; nothing into or out of a closed record.

CREATE FUNCTION stage_rank(stage text) RETURNS int LANGUAGE sql IMMUTABLE AS
$$ SELECT array_position(ARRAY['building', 'active', 'curing', 'released', 'emptied'], stage) $$;

CREATE FUNCTION batch_stage_of(of_batch uuid) RETURNS text LANGUAGE sql STABLE AS $$
  SELECT stage FROM batch_stage WHERE batch_id = of_batch
  ORDER BY (stage = 'condemned') DESC, stage_rank(stage) DESC LIMIT 1
$$;

CREATE FUNCTION batch_stage_in_order() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  now_in text;
  last_at timestamptz;
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
  IF NEW.stage = 'released' AND NOT EXISTS (SELECT 1 FROM release WHERE batch_id = NEW.batch_id) THEN
    RAISE EXCEPTION 'a batch is released by a signature'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_release_signed';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER batch_stage_in_order BEFORE INSERT ON batch_stage
  FOR EACH ROW EXECUTE FUNCTION batch_stage_in_order();

CREATE FUNCTION require_stage(of_batch uuid, allowed text[], rule text) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  now_in text;
BEGIN
  PERFORM 1 FROM batch WHERE id = of_batch FOR SHARE;
  now_in := batch_stage_of(of_batch);
  IF now_in IS NULL OR NOT now_in = ANY (allowed) THEN
    RAISE EXCEPTION 'the batch is %', coalesce(now_in, 'not begun')
      USING ERRCODE = 'check_violation', CONSTRAINT = rule;
  END IF;
END $$;

-- Inputs go in while the batch is building. Raw material that must go in later (a hot batch that is topped up)
-- is an amendment, which the verdict sees and restarts on.
CREATE FUNCTION assignment_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  accepted bigint;
BEGIN
  PERFORM require_stage(NEW.batch_id, ARRAY['building'], 'batch_is_building');
  IF TG_OP = 'UPDATE' THEN RETURN NEW; END IF;
  PERFORM 1 FROM drop_off WHERE id = NEW.drop_off_id FOR UPDATE;
  SELECT CASE WHEN voided THEN 0 ELSE accepted_g END INTO accepted FROM drop_off_revision
    WHERE drop_off_id = NEW.drop_off_id AND superseded_by IS NULL;
  IF drop_off_assigned_g(NEW.drop_off_id) + NEW.mass_g > coalesce(accepted, 0) THEN
    RAISE EXCEPTION 'only % g of this drop-off are left to assign',
      greatest(coalesce(accepted, 0) - drop_off_assigned_g(NEW.drop_off_id), 0)
      USING ERRCODE = 'check_violation', CONSTRAINT = 'assignment_within_accepted';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER assignment_fits BEFORE INSERT OR UPDATE ON assignment
  FOR EACH ROW EXECUTE FUNCTION assignment_fits();

CREATE FUNCTION batch_open() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM require_stage(NEW.batch_id, string_to_array(TG_ARGV[0], ','), TG_ARGV[1]);
  RETURN NEW;
END $$;
CREATE TRIGGER amendment_open BEFORE INSERT OR UPDATE ON amendment
  FOR EACH ROW EXECUTE FUNCTION batch_open('building,active', 'batch_takes_inputs');
CREATE TRIGGER batch_check_open BEFORE INSERT OR UPDATE ON batch_check
  FOR EACH ROW EXECUTE FUNCTION batch_open('building,active,curing', 'batch_not_released');
CREATE TRIGGER turn_open BEFORE INSERT OR UPDATE ON turn
  FOR EACH ROW EXECUTE FUNCTION batch_open('building,active,curing', 'batch_not_released');
CREATE TRIGGER watering_open BEFORE INSERT OR UPDATE ON watering
  FOR EACH ROW EXECUTE FUNCTION batch_open('building,active,curing', 'batch_not_released');
CREATE TRIGGER sample_open BEFORE INSERT OR UPDATE ON sample
  FOR EACH ROW EXECUTE FUNCTION batch_open('active,curing', 'batch_takes_samples');
CREATE TRIGGER screening_open BEFORE INSERT OR UPDATE ON screening
  FOR EACH ROW EXECUTE FUNCTION batch_open('curing', 'batch_takes_screenings');
CREATE TRIGGER release_open BEFORE INSERT ON release
  FOR EACH ROW EXECUTE FUNCTION batch_open('curing', 'batch_is_curing');
CREATE TRIGGER distribution_open BEFORE INSERT OR UPDATE ON distribution
  FOR EACH ROW EXECUTE FUNCTION batch_open('released', 'batch_is_released');

-- Overs go back once: no more than screening gave.
CREATE FUNCTION overs_available() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  given bigint;
  taken bigint;
BEGIN
  PERFORM 1 FROM batch WHERE id = NEW.from_batch_id FOR UPDATE;
  SELECT coalesce(sum(overs_g), 0) INTO given FROM screening
    WHERE batch_id = NEW.from_batch_id AND voided_at IS NULL;
  SELECT coalesce(sum(mass_g), 0) INTO taken FROM amendment
    WHERE from_batch_id = NEW.from_batch_id AND voided_at IS NULL AND id <> NEW.id;
  IF taken + NEW.mass_g > given THEN
    RAISE EXCEPTION 'only % g of overs are left of that batch', greatest(given - taken, 0)
      USING ERRCODE = 'check_violation', CONSTRAINT = 'amendment_overs_available';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER overs_available BEFORE INSERT ON amendment
  FOR EACH ROW WHEN (NEW.from_batch_id IS NOT NULL) EXECUTE FUNCTION overs_available();

-- A bay and its batch are of one yard; a probe's, container's or scale's site is checked where it is entered.
CREATE FUNCTION bay_of_same_site() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (SELECT site_id FROM bay WHERE id = NEW.bay_id) <> (SELECT site_id FROM batch WHERE id = NEW.batch_id) THEN
    RAISE EXCEPTION 'the bay is at another site'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'bay_of_same_site';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER bay_of_same_site BEFORE INSERT ON bay_stay FOR EACH ROW EXECUTE FUNCTION bay_of_same_site();

-- ---------------------------------------------------------------------------------------------------------
-- Audit: digest of a run of events, chained to the seal before it.

CREATE FUNCTION audit_digest(previous text, from_event bigint, to_event bigint) RETURNS text
LANGUAGE sql STABLE AS $$
  SELECT encode(sha256(convert_to(coalesce(previous, '') || coalesce(string_agg(line, E'\n' ORDER BY seq), ''),
                                  'UTF8')), 'hex')
  FROM (
    SELECT seq, jsonb_build_array(seq, extract(epoch FROM at), person_id, action, subject_kind, subject_id,
                                  site_id, detail)::text AS line
    FROM audit_event WHERE seq BETWEEN from_event AND to_event
  ) AS events
$$;

-- ---------------------------------------------------------------------------------------------------------
-- Where the areas meet: what each may know of another's rows.

-- Every drop-off as it stands now, voided ones included, with what is in batches already.
CREATE VIEW drop_off_now AS
  SELECT r.*, d.shift_id, d.import_id, drop_off_assigned_g(r.drop_off_id) AS assigned_g
  FROM drop_off_revision r JOIN drop_off d ON d.id = r.drop_off_id
  WHERE r.superseded_by IS NULL;

-- Every batch as it stands now.
CREATE VIEW batch_now AS
  SELECT b.*, stay.bay_id, open_stage.stage, open_stage.entered_at AS stage_entered_at
  FROM batch b
  LEFT JOIN bay_stay stay ON stay.batch_id = b.id AND stay.to_at IS NULL
  LEFT JOIN LATERAL (
    SELECT stage, entered_at FROM batch_stage s WHERE s.batch_id = b.id
    ORDER BY (stage = 'condemned') DESC, stage_rank(stage) DESC LIMIT 1
  ) AS open_stage ON true;

-- Every gram that went into or came out of a batch, one row a movement.
CREATE VIEW batch_flow AS
  SELECT a.batch_id, 'in' AS direction, 'drop-off' AS kind, r.material_code AS label, r.basis, a.mass_g::bigint AS mass_g,
         a.occurred_at
    FROM assignment a JOIN drop_off_revision r ON r.drop_off_id = a.drop_off_id AND r.superseded_by IS NULL
    WHERE a.voided_at IS NULL
  UNION ALL
  SELECT batch_id, 'in', CASE source WHEN 'overs' THEN 'overs-in' ELSE 'amendment' END, material_code, basis, mass_g,
         occurred_at
    FROM amendment WHERE voided_at IS NULL
  UNION ALL
  -- One millilitre of water is taken as one gram.
  SELECT batch_id, 'in', 'amendment', 'water', 'volume', volume_ml, occurred_at
    FROM watering WHERE voided_at IS NULL AND volume_ml IS NOT NULL
  UNION ALL
  SELECT s.batch_id, 'out', part.kind, part.kind, 'scale', part.mass_g::bigint, s.occurred_at
    FROM screening s
    CROSS JOIN LATERAL (VALUES ('compost', s.compost_g), ('overs', s.overs_g), ('residue', s.residue_g))
      AS part (kind, mass_g)
    WHERE s.voided_at IS NULL AND part.mass_g > 0
  UNION ALL
  SELECT batch_id, 'out', 'sample', kind, 'scale', mass_g, occurred_at
    FROM sample WHERE voided_at IS NULL AND mass_g > 0;
