-- Between what a permit asks the figures of a mix to lie.
CREATE TABLE "permit_mix_target" (
    "permit_id" UUID NOT NULL,
    "figure" TEXT NOT NULL,
    "min" DOUBLE PRECISION,
    "max" DOUBLE PRECISION,

    CONSTRAINT "permit_mix_target_pk" PRIMARY KEY ("permit_id", "figure")
);
ALTER TABLE "permit_mix_target" ADD CONSTRAINT "permit_mix_target_permit_fk" FOREIGN KEY ("permit_id") REFERENCES "permit"("id") ON DELETE CASCADE ON UPDATE RESTRICT;
ALTER TABLE permit_mix_target
  ADD CONSTRAINT permit_mix_target_figure
    CHECK (figure IN ('carbonToNitrogen', 'moisturePercent', 'bulkDensityKgM3', 'freeAirSpacePercent')),
  ADD CONSTRAINT permit_mix_target_asks CHECK (coalesce(min, max) IS NOT NULL),
  ADD CONSTRAINT permit_mix_target_range CHECK (coalesce(min, 0) >= 0 AND coalesce(max, min) >= coalesce(min, 0));
