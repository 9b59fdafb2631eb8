-- Each figure of a material has its own range, its own source and its own degree of checking: docs/design.md §3.
CREATE TABLE "material_figure" (
    "material_code" TEXT NOT NULL,
    "figure" TEXT NOT NULL,
    "typical" DOUBLE PRECISION NOT NULL,
    "min" DOUBLE PRECISION,
    "max" DOUBLE PRECISION,
    "source" TEXT NOT NULL,
    "verification" TEXT NOT NULL,

    CONSTRAINT "material_figure_pk" PRIMARY KEY ("material_code", "figure")
);
ALTER TABLE "material_figure" ADD CONSTRAINT "material_figure_material_fk" FOREIGN KEY ("material_code") REFERENCES "material"("code") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What a figure can be. Moisture of 100 is water's alone, and is judged where the kind is known.
ALTER TABLE material_figure
  ADD CONSTRAINT material_figure_known CHECK (
    figure IN ('nitrogenPercentDry', 'carbonPercentDry', 'carbonToNitrogen', 'ashPercentDry', 'moisturePercent',
               'bulkDensityKgM3')),
  ADD CONSTRAINT material_figure_order CHECK (min <= typical AND typical <= max),
  ADD CONSTRAINT material_figure_possible CHECK (
    CASE WHEN figure IN ('carbonToNitrogen', 'bulkDensityKgM3')
      THEN coalesce(min, typical) > 0 AND coalesce(max, typical) < 'Infinity'
      ELSE coalesce(min, typical) >= 0 AND coalesce(max, typical) <= 100
    END),
  ADD CONSTRAINT material_figure_source CHECK (length(source) > 0),
  ADD CONSTRAINT material_figure_verification CHECK (
    verification IN ('verified', 'mirror', 'secondary', 'from-memory', 'derived', 'local'));

-- A figure may be cleared, as what a permit allows may be; the list as a whole is never emptied.
CREATE TRIGGER settings_stay_table BEFORE TRUNCATE ON material_figure FOR EACH STATEMENT EXECUTE FUNCTION records_keep();

-- What stood in one row of a material is spread over its figures: nothing of it is lost, and no range is made up.
INSERT INTO material_figure (material_code, figure, typical, source, verification)
  SELECT m.code, f.figure, f.typical::float8, m.source, m.verification
  FROM material m CROSS JOIN LATERAL (VALUES
      ('nitrogenPercentDry', m.nitrogen_percent_dry), ('carbonToNitrogen', m.carbon_to_nitrogen),
      ('moisturePercent', m.moisture_percent), ('bulkDensityKgM3', m.bulk_density_kg_m3)) AS f (figure, typical)
  WHERE f.typical IS NOT NULL;

ALTER TABLE "material" DROP COLUMN "nitrogen_percent_dry", DROP COLUMN "carbon_to_nitrogen",
  DROP COLUMN "moisture_percent", DROP COLUMN "bulk_density_kg_m3", DROP COLUMN "source", DROP COLUMN "verification",
  ADD COLUMN "kind" TEXT NOT NULL DEFAULT 'organic',
  ADD COLUMN "traits" TEXT[] NOT NULL DEFAULT ARRAY[]::TEXT[];

-- Nobody has said the kind and the traits of what is there already: they are those of the list that every programme
-- began with, by the codes of that list, and can be changed.
UPDATE material SET kind = CASE code WHEN 'water' THEN 'water' WHEN 'biochar' THEN 'inert-carbon' ELSE 'mineral' END
  WHERE code IN ('water', 'wood-ash', 'biochar');
UPDATE material m SET traits = list.traits
  FROM (VALUES
    ('grass-clippings', ARRAY['herbicide-risk']), ('yard-trimmings', ARRAY['herbicide-risk']),
    ('seaweed', ARRAY['salty']),
    ('straw-wheat', ARRAY['herbicide-risk']), ('straw-oat', ARRAY['herbicide-risk']), ('hay', ARRAY['herbicide-risk']),
    ('wood-chips', ARRAY['wood-dust']), ('wood-chips-hardwood', ARRAY['wood-dust']),
    ('wood-chips-softwood', ARRAY['wood-dust']), ('wood-shavings', ARRAY['wood-dust']), ('sawdust', ARRAY['wood-dust']),
    ('horse-manure-straw', ARRAY['herbicide-risk', 'raw-manure']),
    ('horse-manure-shavings', ARRAY['herbicide-risk', 'raw-manure']),
    ('cow-manure', ARRAY['herbicide-risk', 'raw-manure']), ('sheep-manure', ARRAY['herbicide-risk', 'raw-manure']),
    ('chicken-litter', ARRAY['raw-manure']), ('wood-ash', ARRAY['caustic'])) AS list (code, traits)
  WHERE m.code = list.code;

ALTER TABLE material
  ADD CONSTRAINT material_kind CHECK (kind IN ('organic', 'mineral', 'inert-carbon', 'water')),
  ADD CONSTRAINT material_traits CHECK (
    traits <@ ARRAY['citrus', 'allium', 'herbicide-risk', 'animal-product', 'raw-manure', 'wood-dust', 'salty', 'caustic']
    AND array_position(traits, NULL) IS NULL);
