-- Where every kilogram is: hauls, how big a pile is, merged batches, holds, complaints, and what jurisdictions are told.

-- Containers that left a hub, with what was in them.
CREATE TABLE "haul" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "to_site_id" UUID,
    "elsewhere" TEXT,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "out_g" INTEGER,
    "note" TEXT,
    "entered" JSONB NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "haul_pk" PRIMARY KEY ("id")
);
CREATE INDEX "haul_by_site" ON "haul"("site_id", "occurred_at");
CREATE INDEX "haul_by_yard" ON "haul"("to_site_id", "occurred_at");
ALTER TABLE "haul" ADD CONSTRAINT "haul_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "haul" ADD CONSTRAINT "haul_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "haul" ADD CONSTRAINT "haul_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "haul" ADD CONSTRAINT "haul_to_site_fk" FOREIGN KEY ("to_site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- How many of a container left.
CREATE TABLE "haul_container" (
    "haul_id" UUID NOT NULL,
    "container_id" UUID NOT NULL,
    "count" INTEGER NOT NULL,

    CONSTRAINT "haul_container_pk" PRIMARY KEY ("haul_id", "container_id")
);
ALTER TABLE "haul_container" ADD CONSTRAINT "haul_container_haul_fk" FOREIGN KEY ("haul_id") REFERENCES "haul"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "haul_container" ADD CONSTRAINT "haul_container_container_fk" FOREIGN KEY ("container_id") REFERENCES "container"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- A drop-off that went with a haul, whole.
CREATE TABLE "haul_lot" (
    "haul_id" UUID NOT NULL,
    "drop_off_id" UUID NOT NULL,

    CONSTRAINT "haul_lot_pk" PRIMARY KEY ("haul_id", "drop_off_id")
);
CREATE INDEX "haul_lot_by_drop_off" ON "haul_lot"("drop_off_id");
ALTER TABLE "haul_lot" ADD CONSTRAINT "haul_lot_haul_fk" FOREIGN KEY ("haul_id") REFERENCES "haul"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "haul_lot" ADD CONSTRAINT "haul_lot_drop_off_fk" FOREIGN KEY ("drop_off_id") REFERENCES "drop_off"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- A haul that came in at the yard.
CREATE TABLE "haul_receipt" (
    "id" UUID NOT NULL,
    "haul_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "in_g" INTEGER,
    "explanation" TEXT,
    "note" TEXT,
    "entered" JSONB NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "haul_receipt_pk" PRIMARY KEY ("id")
);
CREATE INDEX "haul_receipt_by_haul" ON "haul_receipt"("haul_id");
ALTER TABLE "haul_receipt" ADD CONSTRAINT "haul_receipt_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "haul_receipt" ADD CONSTRAINT "haul_receipt_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "haul_receipt" ADD CONSTRAINT "haul_receipt_haul_fk" FOREIGN KEY ("haul_id") REFERENCES "haul"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- How many of a container came in.
CREATE TABLE "haul_receipt_container" (
    "receipt_id" UUID NOT NULL,
    "container_id" UUID NOT NULL,
    "count" INTEGER NOT NULL,

    CONSTRAINT "haul_receipt_container_pk" PRIMARY KEY ("receipt_id", "container_id")
);
ALTER TABLE "haul_receipt_container" ADD CONSTRAINT "haul_receipt_container_receipt_fk" FOREIGN KEY ("receipt_id") REFERENCES "haul_receipt"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "haul_receipt_container" ADD CONSTRAINT "haul_receipt_container_container_fk" FOREIGN KEY ("container_id") REFERENCES "container"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- Why a haul weighed otherwise at the yard than at the hub, found out later.
CREATE TABLE "haul_explanation" (
    "id" UUID NOT NULL,
    "haul_id" UUID NOT NULL,
    "explanation" TEXT NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "haul_explanation_pk" PRIMARY KEY ("id")
);
CREATE INDEX "haul_explanation_by_haul" ON "haul_explanation"("haul_id");
ALTER TABLE "haul_explanation" ADD CONSTRAINT "haul_explanation_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "haul_explanation" ADD CONSTRAINT "haul_explanation_haul_fk" FOREIGN KEY ("haul_id") REFERENCES "haul"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- How big a batch was found to be.
CREATE TABLE "pile_measurement" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "shape" TEXT NOT NULL,
    "length_mm" INTEGER,
    "width_mm" INTEGER NOT NULL,
    "top_width_mm" INTEGER,
    "height_mm" INTEGER NOT NULL,
    "volume_ml" BIGINT NOT NULL,
    "density_kg_m3" DOUBLE PRECISION,
    "mass_g" INTEGER,
    "note" TEXT,
    "entered" JSONB NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "pile_measurement_pk" PRIMARY KEY ("id")
);
CREATE INDEX "pile_measurement_by_batch" ON "pile_measurement"("batch_id");
ALTER TABLE "pile_measurement" ADD CONSTRAINT "pile_measurement_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "pile_measurement" ADD CONSTRAINT "pile_measurement_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "pile_measurement" ADD CONSTRAINT "pile_measurement_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- All that lay there of one batch, put into another.
CREATE TABLE "batch_merge" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "from_batch_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "basis" TEXT NOT NULL,
    "mass_g" INTEGER NOT NULL,
    "note" TEXT,
    "entered" JSONB NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "batch_merge_pk" PRIMARY KEY ("id")
);
CREATE INDEX "batch_merge_by_batch" ON "batch_merge"("batch_id");
CREATE UNIQUE INDEX "batch_merge_once" ON "batch_merge"("from_batch_id");
ALTER TABLE "batch_merge" ADD CONSTRAINT "batch_merge_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "batch_merge" ADD CONSTRAINT "batch_merge_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "batch_merge" ADD CONSTRAINT "batch_merge_from_batch_fk" FOREIGN KEY ("from_batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- While it stands nothing of the batch is released or leaves.
CREATE TABLE "batch_hold" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "reason" TEXT NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "lifted_at" TIMESTAMPTZ(3),
    "lifted_by" UUID,
    "lift_reason" TEXT,

    CONSTRAINT "batch_hold_pk" PRIMARY KEY ("id")
);
CREATE INDEX "batch_hold_by_batch" ON "batch_hold"("batch_id");
ALTER TABLE "batch_hold" ADD CONSTRAINT "batch_hold_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "batch_hold" ADD CONSTRAINT "batch_hold_lifted_by_fk" FOREIGN KEY ("lifted_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "batch_hold" ADD CONSTRAINT "batch_hold_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What neighbours complained of.
CREATE TABLE "complaint" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "kind" TEXT NOT NULL,
    "about" TEXT NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "complaint_pk" PRIMARY KEY ("id")
);
CREATE INDEX "complaint_by_site" ON "complaint"("site_id", "occurred_at");
ALTER TABLE "complaint" ADD CONSTRAINT "complaint_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "complaint" ADD CONSTRAINT "complaint_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "complaint" ADD CONSTRAINT "complaint_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What was done about it.
CREATE TABLE "complaint_action" (
    "id" UUID NOT NULL,
    "complaint_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "done" TEXT NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "complaint_action_pk" PRIMARY KEY ("id")
);
CREATE INDEX "complaint_action_by_complaint" ON "complaint_action"("complaint_id");
ALTER TABLE "complaint_action" ADD CONSTRAINT "complaint_action_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "complaint_action" ADD CONSTRAINT "complaint_action_complaint_fk" FOREIGN KEY ("complaint_id") REFERENCES "complaint"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What a jurisdiction is told of a period; its versions are what was issued.
CREATE TABLE "diversion_report" (
    "id" UUID NOT NULL,
    "jurisdiction_id" UUID NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "whole_year" BOOLEAN NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "diversion_report_pk" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "diversion_report_period_unique" ON "diversion_report"("jurisdiction_id", "from_day", "to_day");
ALTER TABLE "diversion_report" ADD CONSTRAINT "diversion_report_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "diversion_report" ADD CONSTRAINT "diversion_report_jurisdiction_fk" FOREIGN KEY ("jurisdiction_id") REFERENCES "jurisdiction"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CREATE TABLE "diversion_report_version" (
    "report_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "seal" TEXT NOT NULL,
    "reason" TEXT,
    "settings" JSONB NOT NULL,
    "issued_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "issued_by" UUID NOT NULL,

    CONSTRAINT "diversion_report_version_pk" PRIMARY KEY ("report_id", "version")
);
ALTER TABLE "diversion_report_version" ADD CONSTRAINT "diversion_report_version_issued_by_fk" FOREIGN KEY ("issued_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "diversion_report_version" ADD CONSTRAINT "diversion_report_version_report_fk" FOREIGN KEY ("report_id") REFERENCES "diversion_report"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "diversion_report_version" ADD CONSTRAINT "diversion_report_version_seal_fk" FOREIGN KEY ("seal") REFERENCES "sealed_document"("seal") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- A movement that a version was made of, as it stood then.
CREATE TABLE "diversion_report_row" (
    "report_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "source_id" UUID NOT NULL,
    "part" TEXT NOT NULL,
    "revision" INTEGER,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "site_id" UUID NOT NULL,
    "material_code" TEXT NOT NULL,
    "basis" TEXT NOT NULL,
    "from_place" TEXT NOT NULL,
    "to_place" TEXT NOT NULL,
    "mass_g" BIGINT NOT NULL,

    CONSTRAINT "diversion_report_row_pk" PRIMARY KEY ("report_id", "version", "kind", "source_id", "part")
);
ALTER TABLE "diversion_report_row" ADD CONSTRAINT "diversion_report_row_report_fk" FOREIGN KEY ("report_id", "version") REFERENCES "diversion_report_version"("report_id", "version") ON DELETE RESTRICT ON UPDATE RESTRICT;

ALTER TABLE "permit" ADD COLUMN "weekly_mass_max_g" BIGINT, ADD COLUMN "mass_year_start" TEXT NOT NULL DEFAULT '01-01';
ALTER TABLE "site" ADD COLUMN "public_records" BOOLEAN NOT NULL DEFAULT false;
ALTER TABLE "jurisdiction" ADD COLUMN "residue_to" TEXT NOT NULL DEFAULT 'traced';
ALTER TABLE "material" ADD COLUMN "waste_category" TEXT;
ALTER TABLE "drop_off_revision" ADD COLUMN "haul_receipt_id" UUID;
ALTER TABLE "drop_off_revision" ADD CONSTRAINT "drop_off_revision_haul_receipt_fk" FOREIGN KEY ("haul_receipt_id") REFERENCES "haul_receipt"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- ---------------------------------------------------------------------------------------------------------
-- Values

ALTER TABLE haul
  ADD CONSTRAINT haul_to CHECK ((to_site_id IS NULL) <> (elsewhere IS NULL) AND to_site_id IS DISTINCT FROM site_id),
  ADD CONSTRAINT haul_mass CHECK (out_g > 0);
ALTER TABLE haul_container ADD CONSTRAINT haul_container_count CHECK (count BETWEEN 1 AND 1000);
ALTER TABLE haul_receipt ADD CONSTRAINT haul_receipt_mass CHECK (in_g > 0);
ALTER TABLE haul_receipt_container ADD CONSTRAINT haul_receipt_container_count CHECK (count BETWEEN 0 AND 1000);
CREATE UNIQUE INDEX haul_received_once ON haul_receipt (haul_id) WHERE voided_at IS NULL;
CREATE INDEX drop_off_revision_by_receipt ON drop_off_revision (haul_receipt_id) WHERE haul_receipt_id IS NOT NULL;

-- A lot that was weighed with its whole haul keeps the volume by which it had its share.
ALTER TABLE drop_off_revision
  DROP CONSTRAINT drop_off_revision_basis,
  ADD CONSTRAINT drop_off_revision_basis CHECK (
    CASE basis
      WHEN 'scale' THEN volume_ml IS NULL AND density_kg_m3 IS NULL AND haul_receipt_id IS NULL
      WHEN 'volume' THEN volume_ml > 0 AND density_kg_m3 > 0 AND density_source IS NOT NULL AND gross_g IS NULL
        AND haul_receipt_id IS NULL
      WHEN 'haul' THEN volume_ml > 0 AND gross_g IS NULL AND haul_receipt_id IS NOT NULL
      ELSE false
    END);

ALTER TABLE pile_measurement
  ADD CONSTRAINT pile_measurement_shape CHECK (
    CASE shape
      WHEN 'bin' THEN length_mm > 0 AND top_width_mm IS NULL
      WHEN 'triangular-windrow' THEN length_mm > 0 AND top_width_mm IS NULL
      WHEN 'rounded-windrow' THEN length_mm > 0 AND top_width_mm IS NULL
      WHEN 'flat-topped-windrow' THEN length_mm > 0 AND top_width_mm BETWEEN 0 AND width_mm
      WHEN 'cone' THEN length_mm IS NULL AND top_width_mm IS NULL
      ELSE false
    END),
  ADD CONSTRAINT pile_measurement_size CHECK (width_mm > 0 AND height_mm > 0 AND volume_ml > 0),
  ADD CONSTRAINT pile_measurement_mass CHECK ((density_kg_m3 IS NULL) = (mass_g IS NULL) AND density_kg_m3 > 0 AND mass_g > 0);
ALTER TABLE batch_merge
  ADD CONSTRAINT batch_merge_basis CHECK (basis IN ('scale', 'volume', 'records')),
  ADD CONSTRAINT batch_merge_mass CHECK (mass_g > 0 AND from_batch_id <> batch_id);
ALTER TABLE batch_hold
  ADD CONSTRAINT batch_hold_lift CHECK (
    (lifted_at IS NULL) = (lifted_by IS NULL) AND (lifted_at IS NULL) = (lift_reason IS NULL));
CREATE UNIQUE INDEX batch_hold_one ON batch_hold (batch_id) WHERE lifted_at IS NULL;
ALTER TABLE complaint
  ADD CONSTRAINT complaint_kind CHECK (
    kind IN ('odour', 'animals', 'dust', 'noise', 'litter', 'traffic', 'water', 'smoke', 'other'));
ALTER TABLE permit
  ADD CONSTRAINT permit_weekly_mass CHECK (weekly_mass_max_g > 0),
  ADD CONSTRAINT permit_mass_year CHECK (mass_year_start ~ '^(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$');
ALTER TABLE jurisdiction ADD CONSTRAINT jurisdiction_residue_to CHECK (residue_to IN ('traced', 'site'));
ALTER TABLE material
  ADD CONSTRAINT material_waste_category CHECK (
    waste_category IN ('food', 'grass', 'leaves', 'branches', 'yard-trimmings', 'mixed-organics', 'other'));
ALTER TABLE diversion_report
  ADD CONSTRAINT diversion_report_period CHECK (from_day < to_day),
  -- Two reporting years of one jurisdiction do not overlap, or mass would be told twice.
  ADD CONSTRAINT diversion_report_years_apart EXCLUDE USING gist
    (jurisdiction_id WITH =, daterange(from_day, to_day) WITH &&) WHERE (whole_year);
ALTER TABLE diversion_report_version
  ADD CONSTRAINT diversion_report_version_reason CHECK (version >= 1 AND (version = 1) = (reason IS NULL));

DO $$
DECLARE
  spec record;
BEGIN
  FOR spec IN
    SELECT * FROM (VALUES
      ('haul', 'voided_at,voided_by,void_reason'),
      ('haul_container', ''),
      ('haul_lot', ''),
      ('haul_receipt', 'voided_at,voided_by,void_reason'),
      ('haul_receipt_container', ''),
      ('haul_explanation', ''),
      ('pile_measurement', 'voided_at,voided_by,void_reason'),
      ('batch_merge', ''),
      ('batch_hold', 'lifted_at,lifted_by,lift_reason'),
      ('complaint', 'voided_at,voided_by,void_reason'),
      ('complaint_action', ''),
      ('diversion_report', ''),
      ('diversion_report_version', ''),
      ('diversion_report_row', '')
    ) AS t (kept, settable)
  LOOP
    EXECUTE format('CREATE TRIGGER records_keep_rows BEFORE UPDATE OR DELETE ON %I FOR EACH ROW
                    EXECUTE FUNCTION records_keep(%s)', spec.kept,
      (SELECT coalesce(string_agg(quote_literal(name), ', '), '')
         FROM unnest(string_to_array(nullif(spec.settable, ''), ',')) AS name));
    EXECUTE format('CREATE TRIGGER records_keep_table BEFORE TRUNCATE ON %I FOR EACH STATEMENT
                    EXECUTE FUNCTION records_keep()', spec.kept);
    IF spec.settable LIKE 'voided%' THEN
      EXECUTE format(
        'ALTER TABLE %I ADD CONSTRAINT %I CHECK ((voided_at IS NULL) = (voided_by IS NULL)
           AND (voided_at IS NULL) = (void_reason IS NULL))', spec.kept, spec.kept || '_void');
    END IF;
  END LOOP;
END $$;

-- ---------------------------------------------------------------------------------------------------------
-- Every gram that was moved, one row a movement from one place to another, as the records stand now. Balances, diversion,
-- stock and traces are sums of these rows. What is lost to the air is no movement: it is what is missing in the end.
--
-- Places: origin (a jurisdiction), site (what waits there), road (a haul), stock (of a site), tap, batch, compost and overs
-- (of a batch), recipient (a distribution), laboratory, and what leaves for landfill, recycling, other-composting or back
-- (returned). The constants of each arm let a query that names a kind or a place read that arm alone.

CREATE VIEW mass_flow AS
  SELECT 'drop-off'::text AS kind, r.drop_off_id AS source_id, ''::text AS part, r.revision, r.occurred_at, r.site_id,
         r.jurisdiction_id, r.material_code, r.basis,
         'origin'::text AS from_place, r.jurisdiction_id AS from_id, 'site'::text AS to_place, r.site_id AS to_id,
         r.net_g::bigint AS mass_g
    FROM drop_off_revision r WHERE r.superseded_by IS NULL AND NOT r.voided
  UNION ALL
  SELECT 'pulled', r.drop_off_id, x.line::text, r.revision, r.occurred_at, r.site_id, r.jurisdiction_id, r.material_code,
         r.basis, 'site', r.site_id, x.went_to, NULL::uuid, x.mass_g::bigint
    FROM drop_off_revision r JOIN drop_off_reject x USING (drop_off_id, revision)
    WHERE r.superseded_by IS NULL AND NOT r.voided
  UNION ALL
  SELECT 'haul-out', h.id, l.drop_off_id::text, r.revision, h.occurred_at, h.site_id, r.jurisdiction_id, r.material_code,
         r.basis, 'site', h.site_id, 'road', h.id, r.accepted_g::bigint
    FROM haul h JOIN haul_lot l ON l.haul_id = h.id
    JOIN drop_off_revision r ON r.drop_off_id = l.drop_off_id AND r.superseded_by IS NULL AND NOT r.voided
    WHERE h.voided_at IS NULL
  UNION ALL
  SELECT 'haul-in', p.id, l.drop_off_id::text, r.revision, p.occurred_at, h.to_site_id, r.jurisdiction_id,
         r.material_code, r.basis, 'road', h.id, 'site', h.to_site_id, r.accepted_g::bigint
    FROM haul_receipt p JOIN haul h ON h.id = p.haul_id AND h.voided_at IS NULL JOIN haul_lot l ON l.haul_id = h.id
    JOIN drop_off_revision r ON r.drop_off_id = l.drop_off_id AND r.superseded_by IS NULL AND NOT r.voided
    WHERE p.voided_at IS NULL AND h.to_site_id IS NOT NULL
  UNION ALL
  -- What somebody else composts has arrived when it left.
  SELECT 'haul-elsewhere', h.id, l.drop_off_id::text, r.revision, h.occurred_at, h.site_id, r.jurisdiction_id,
         r.material_code, r.basis, 'road', h.id, 'other-composting', NULL::uuid, r.accepted_g::bigint
    FROM haul h JOIN haul_lot l ON l.haul_id = h.id
    JOIN drop_off_revision r ON r.drop_off_id = l.drop_off_id AND r.superseded_by IS NULL AND NOT r.voided
    WHERE h.voided_at IS NULL AND h.to_site_id IS NULL
  UNION ALL
  SELECT 'assignment', a.id, '', r.revision, a.occurred_at, b.site_id, r.jurisdiction_id, r.material_code, r.basis,
         'site', coalesce((SELECT h.to_site_id FROM haul_lot l JOIN haul h ON h.id = l.haul_id AND h.voided_at IS NULL
                           WHERE l.drop_off_id = a.drop_off_id), r.site_id),
         'batch', a.batch_id, a.mass_g::bigint
    FROM assignment a JOIN batch b ON b.id = a.batch_id
    JOIN drop_off_revision r ON r.drop_off_id = a.drop_off_id AND r.superseded_by IS NULL
    WHERE a.voided_at IS NULL
  UNION ALL
  SELECT 'amendment', a.id, '', NULL::int, a.occurred_at, b.site_id, NULL::uuid, a.material_code, a.basis,
         CASE a.source WHEN 'overs' THEN 'overs' WHEN 'water' THEN 'tap' ELSE 'stock' END,
         CASE a.source WHEN 'overs' THEN a.from_batch_id WHEN 'water' THEN NULL ELSE b.site_id END,
         'batch', a.batch_id, a.mass_g::bigint
    FROM amendment a JOIN batch b ON b.id = a.batch_id WHERE a.voided_at IS NULL
  UNION ALL
  -- One millilitre of water is taken as one gram.
  SELECT 'watering', w.id, '', NULL, w.occurred_at, b.site_id, NULL, 'water', 'volume', 'tap', NULL, 'batch', w.batch_id,
         w.volume_ml
    FROM watering w JOIN batch b ON b.id = w.batch_id WHERE w.voided_at IS NULL AND w.volume_ml IS NOT NULL
  UNION ALL
  SELECT 'merge', m.id, '', NULL, m.occurred_at, b.site_id, NULL, 'batch', m.basis, 'batch', m.from_batch_id, 'batch',
         m.batch_id, m.mass_g::bigint
    FROM batch_merge m JOIN batch b ON b.id = m.batch_id
  UNION ALL
  SELECT 'screening', s.id, parts.part, NULL, s.occurred_at, b.site_id, NULL, parts.part, 'scale', 'batch', s.batch_id,
         parts.to_place, CASE WHEN parts.part = 'residue' THEN NULL ELSE s.batch_id END, parts.mass_g::bigint
    FROM screening s JOIN batch b ON b.id = s.batch_id
    CROSS JOIN LATERAL (VALUES ('compost', 'compost', s.compost_g), ('overs', 'overs', s.overs_g),
                               ('residue', s.residue_went_to, s.residue_g)) AS parts (part, to_place, mass_g)
    WHERE s.voided_at IS NULL AND parts.mass_g > 0
  UNION ALL
  SELECT 'sample', s.id, '', NULL, s.occurred_at, b.site_id, NULL, s.kind, 'scale', 'batch', s.batch_id, 'laboratory',
         NULL, s.mass_g::bigint
    FROM sample s JOIN batch b ON b.id = s.batch_id WHERE s.voided_at IS NULL AND s.mass_g > 0
  UNION ALL
  SELECT 'distribution', d.id, '', NULL, d.occurred_at, b.site_id, NULL, 'compost', d.basis, 'compost', d.batch_id,
         'recipient', d.id, d.mass_g::bigint
    FROM distribution d JOIN batch b ON b.id = d.batch_id WHERE d.voided_at IS NULL;

-- What went into and came out of a batch.
CREATE OR REPLACE VIEW batch_flow AS
  SELECT to_id AS batch_id, 'in' AS direction,
         CASE WHEN kind = 'assignment' THEN 'drop-off' WHEN kind = 'merge' THEN 'merged-in'
              WHEN from_place = 'overs' THEN 'overs-in' ELSE 'amendment' END AS kind,
         material_code AS label, basis, mass_g, occurred_at
    FROM mass_flow WHERE to_place = 'batch'
  UNION ALL
  SELECT from_id, 'out',
         CASE WHEN kind = 'screening' THEN part WHEN kind = 'merge' THEN 'merged-on' ELSE kind END,
         material_code, basis, mass_g, occurred_at
    FROM mass_flow WHERE from_place = 'batch';
