-- Programmes that took up the starting list before it told waste categories have them too, where nobody said otherwise.

UPDATE material SET waste_category = of.category
  FROM (VALUES
    ('food', ARRAY['food-scraps', 'vegetable-scraps', 'fruit-scraps', 'citrus-peel', 'onions', 'garlic', 'pumpkins',
       'coffee-grounds', 'tea-leaves', 'bread', 'spent-grain', 'meat-scraps', 'fish-scraps', 'dairy',
       'egg-shells']),
    ('grass', ARRAY['grass-clippings']),
    ('leaves', ARRAY['leaves', 'leaves-oak', 'leaves-maple', 'pine-needles']),
    ('branches', ARRAY['shrub-trimmings', 'tree-trimmings', 'wood-chips', 'wood-chips-hardwood', 'wood-chips-softwood']),
    ('yard-trimmings', ARRAY['yard-trimmings']),
    ('other', ARRAY['cooking-oil', 'seaweed', 'straw-wheat', 'straw-oat', 'hay', 'wood-shavings', 'sawdust',
       'cardboard', 'newsprint', 'paper-mixed', 'paper-office', 'horse-manure-straw', 'horse-manure-shavings', 'chicken-litter',
       'cow-manure', 'sheep-manure', 'rabbit-manure', 'mushroom-substrate', 'finished-compost', 'overs', 'wood-ash',
       'garden-soil', 'biochar'])
  ) AS of (category, codes)
  WHERE material.code = ANY (of.codes) AND material.waste_category IS NULL;
