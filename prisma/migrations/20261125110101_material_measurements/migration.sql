-- What a laboratory or the crew measured of a material at a site. A batch there uses it in place of what was published.
CREATE TABLE "material_measurement" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "material_code" TEXT NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "measured_by" TEXT NOT NULL,
    "reference" TEXT,
    "nitrogen_percent_dry" DOUBLE PRECISION,
    "carbon_percent_dry" DOUBLE PRECISION,
    "carbon_to_nitrogen" DOUBLE PRECISION,
    "ash_percent_dry" DOUBLE PRECISION,
    "moisture_percent" DOUBLE PRECISION,
    "bulk_density_kg_m3" DOUBLE PRECISION,
    "note" TEXT,
    "entered" JSONB NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "material_measurement_pk" PRIMARY KEY ("id")
);
CREATE INDEX "material_measurement_by_material" ON "material_measurement"("site_id", "material_code", "occurred_at");
ALTER TABLE "material_measurement" ADD CONSTRAINT "material_measurement_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "material_measurement" ADD CONSTRAINT "material_measurement_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "material_measurement" ADD CONSTRAINT "material_measurement_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "material_measurement" ADD CONSTRAINT "material_measurement_material_fk" FOREIGN KEY ("material_code") REFERENCES "material"("code") ON DELETE RESTRICT ON UPDATE RESTRICT;

ALTER TABLE material_measurement
  ADD CONSTRAINT material_measurement_some CHECK (
    num_nonnulls(nitrogen_percent_dry, carbon_percent_dry, carbon_to_nitrogen, ash_percent_dry, moisture_percent,
                 bulk_density_kg_m3) > 0),
  ADD CONSTRAINT material_measurement_possible CHECK (
    nitrogen_percent_dry BETWEEN 0 AND 100 AND carbon_percent_dry BETWEEN 0 AND 100
    AND ash_percent_dry BETWEEN 0 AND 100 AND moisture_percent BETWEEN 0 AND 100
    AND carbon_to_nitrogen > 0 AND carbon_to_nitrogen < 'Infinity'
    AND bulk_density_kg_m3 > 0 AND bulk_density_kg_m3 < 'Infinity'),
  ADD CONSTRAINT material_measurement_void CHECK (
    (voided_at IS NULL) = (voided_by IS NULL) AND (voided_at IS NULL) = (void_reason IS NULL));

CREATE TRIGGER records_keep_rows BEFORE UPDATE OR DELETE ON material_measurement FOR EACH ROW
  EXECUTE FUNCTION records_keep('voided_at', 'voided_by', 'void_reason');
CREATE TRIGGER records_keep_table BEFORE TRUNCATE ON material_measurement FOR EACH STATEMENT
  EXECUTE FUNCTION records_keep();
