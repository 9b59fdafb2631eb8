-- What an amendment is warned of is kept with it, as with a drop-off. Earlier ones were warned of nothing.
ALTER TABLE "amendment" ADD COLUMN "warnings" JSONB NOT NULL DEFAULT '[]';
ALTER TABLE "amendment" ALTER COLUMN "warnings" DROP DEFAULT;

-- A density that the yard measured has more digits than the tenth of those on the list.
ALTER TABLE "amendment" ALTER COLUMN "density_kg_m3" TYPE DOUBLE PRECISION;
