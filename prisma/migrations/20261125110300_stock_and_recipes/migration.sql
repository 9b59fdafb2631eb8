-- What lies at a yard as the crew counted it, and what the yard usually mixes.
CREATE TABLE "stock_count" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "material_code" TEXT NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "basis" TEXT NOT NULL,
    "mass_g" BIGINT,
    "volume_ml" BIGINT,
    "density_kg_m3" DOUBLE PRECISION,
    "density_source" TEXT,
    "container_id" UUID,
    "container_count" DECIMAL(9,2),
    "cost_per_kg" DECIMAL(12,4),
    "note" TEXT,
    "entered" JSONB NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "stock_count_pk" PRIMARY KEY ("id")
);
CREATE INDEX "stock_count_by_site" ON "stock_count"("site_id", "occurred_at");
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_material_fk" FOREIGN KEY ("material_code") REFERENCES "material"("code") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "stock_count" ADD CONSTRAINT "stock_count_container_fk" FOREIGN KEY ("container_id") REFERENCES "container"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- None left is a count too. A volume of which no density was known then has no mass.
ALTER TABLE stock_count
  ADD CONSTRAINT stock_count_basis CHECK (
    CASE basis
      WHEN 'scale' THEN mass_g IS NOT NULL AND volume_ml IS NULL AND container_id IS NULL
      WHEN 'volume' THEN volume_ml IS NOT NULL AND container_id IS NULL
      WHEN 'container' THEN volume_ml IS NOT NULL AND container_id IS NOT NULL
      ELSE false
    END),
  ADD CONSTRAINT stock_count_container CHECK (
    (container_id IS NULL) = (container_count IS NULL) AND container_count >= 0),
  ADD CONSTRAINT stock_count_density CHECK (
    (density_kg_m3 IS NULL) = (density_source IS NULL) AND density_kg_m3 > 0
    AND (basis = 'scale' AND density_kg_m3 IS NULL OR basis <> 'scale' AND (mass_g IS NULL) = (density_kg_m3 IS NULL))),
  ADD CONSTRAINT stock_count_amount CHECK (mass_g >= 0 AND volume_ml >= 0 AND cost_per_kg >= 0),
  ADD CONSTRAINT stock_count_void CHECK (
    (voided_at IS NULL) = (voided_by IS NULL) AND (voided_at IS NULL) = (void_reason IS NULL));
CREATE TRIGGER records_keep_rows BEFORE UPDATE OR DELETE ON stock_count FOR EACH ROW
  EXECUTE FUNCTION records_keep('voided_at', 'voided_by', 'void_reason');
CREATE TRIGGER records_keep_table BEFORE TRUNCATE ON stock_count FOR EACH STATEMENT EXECUTE FUNCTION records_keep();

CREATE TABLE "recipe" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "basis" TEXT NOT NULL,
    "note" TEXT,
    "retired_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "recipe_pk" PRIMARY KEY ("id")
);
CREATE TABLE "recipe_part" (
    "recipe_id" UUID NOT NULL,
    "material_code" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "parts" DOUBLE PRECISION NOT NULL,
    "from_drop_offs" BOOLEAN NOT NULL,

    CONSTRAINT "recipe_part_pk" PRIMARY KEY ("recipe_id", "material_code")
);
CREATE UNIQUE INDEX "recipe_name_unique" ON "recipe"("site_id", "name");
ALTER TABLE "recipe" ADD CONSTRAINT "recipe_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "recipe_part" ADD CONSTRAINT "recipe_part_recipe_fk" FOREIGN KEY ("recipe_id") REFERENCES "recipe"("id") ON DELETE CASCADE ON UPDATE RESTRICT;
ALTER TABLE "recipe_part" ADD CONSTRAINT "recipe_part_material_fk" FOREIGN KEY ("material_code") REFERENCES "material"("code") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE recipe
  ADD CONSTRAINT recipe_basis CHECK (basis IN ('mass', 'volume')),
  ADD CONSTRAINT recipe_name CHECK (length(name) BETWEEN 1 AND 80);
ALTER TABLE recipe_part ADD CONSTRAINT recipe_part_parts CHECK (parts > 0 AND parts < 'Infinity');

-- A recipe is changed or retired, and never taken away; its parts are replaced as a list.
CREATE TRIGGER settings_stay_rows BEFORE DELETE ON recipe FOR EACH ROW EXECUTE FUNCTION records_keep();
CREATE TRIGGER settings_stay_table BEFORE TRUNCATE ON recipe FOR EACH STATEMENT EXECUTE FUNCTION records_keep();
