-- What hand and eye find at a check: signs about the pile, how the material falls, whether what went in can be recognised.
ALTER TABLE "batch_check" ADD COLUMN "signs" TEXT[];
ALTER TABLE "batch_check" ADD COLUMN "texture" TEXT;
ALTER TABLE "batch_check" ADD COLUMN "inputs_visible" BOOLEAN;
-- Null where nobody looked, empty where somebody looked and saw none.
ALTER TABLE batch_check
  ADD CONSTRAINT batch_check_signs CHECK (
    signs <@ ARRAY['flies', 'rodents', 'leachate'] AND array_position(signs, NULL) IS NULL),
  ADD CONSTRAINT batch_check_texture CHECK (texture IN ('crumbly', 'clumpy', 'slimy'));
