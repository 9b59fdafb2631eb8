import type { Caution } from './record.js';

/** Printed on the first page of every record, and again with the cautions. */
export const DEFERENCE =
  'The local permit and the local authority govern. This record shows what was recorded and how the recorded ' +
  'criteria of the named rule were applied to it. It is not a permit, a certificate of safety or legal advice.';

/**
 * The usual cautions of the trade. Each names the document its figure or statement was read in;
 * "common practice" marks what every operator is told and no single document was read for.
 */
export const CAUTIONS: readonly Caution[] = [
  {
    topic: 'Hot piles',
    text:
      'A working pile is hot enough to scald, and steam rises when it is opened. Stand upwind, use long tools, ' +
      'never climb on or dig into the face of a pile, and do not work on a large pile alone.',
    source: 'common practice',
  },
  {
    topic: 'Fire',
    text:
      'Watch closely above 74 °C (165 °F) and cool the pile at once at 85 °C (185 °F). Act before 70 to 80 °C ' +
      'in a stored pile; above 80 °C in one too large to handle, call the fire service before opening it.',
    source:
      'USDA NRCS job sheet 317 (2002); Surrey Fire and Rescue Service, Fire safety management of compost piles',
  },
  {
    topic: 'Dust and spores',
    text:
      'Turning and screening throw up dust with spores of Aspergillus fumigatus, which is life-threatening to ' +
      'people with a weakened immune system: they stay away from these tasks. Keep material damp, stay upwind, ' +
      'wear a well-fitting respirator (N95 or better) for dusty work, and tell newcomers before they start.',
    source:
      'BioCycle 2024, Composting and Aspergillus fumigatus; HSE RR786 (2010); respirator: common practice',
  },
  {
    topic: 'Hands and wounds',
    text:
      'Wear gloves, boots and eye protection. Wash hands before eating, drinking or smoking. Cover cuts, keep ' +
      'tetanus immunisation current, and look out for glass and needles.',
    source: 'common practice',
  },
  {
    topic: 'Lifting',
    text:
      'Weigh a full bucket or tote before deciding who lifts it. 23 kg (51 lb) is the most for one person under ' +
      'ideal conditions; real tasks call for less. Share the load or use wheels.',
    source: 'NIOSH 94-110, Revised lifting equation (rev. 2021)',
  },
  {
    topic: 'Animals',
    text:
      'Do not feed food scraps, unfinished or finished compost to animals, and keep them out of the piles. ' +
      'Mouldy or rotting material can poison dogs and livestock.',
    source: 'common practice',
  },
  {
    topic: 'Raw and finished apart',
    text:
      'Raw material, its run-off and uncleaned tools must not touch compost that has met its criteria. Wash ' +
      'machines and tools between raw and finished; if they have touched, treat the compost as raw again.',
    source: 'as in 14 CCR 17867(a) (California); washing and treating again: common practice',
  },
  {
    topic: 'Herbicide residue',
    text:
      'Clopyralid, aminopyralid, picloram and aminocyclopyrachlor survive composting and harm peas, beans, ' +
      'tomatoes and other broad-leaved plants at about 1 part per billion. Do not use untested compost near ' +
      'them: grow peas or beans in it beside a control for two to three weeks first.',
    source:
      'US Composting Council, Persistent herbicide FAQ; Washington State University, Whatcom County, bioassay; ' +
      'plants named: common practice',
  },
  {
    topic: 'What "met" means',
    text:
      'A batch that met its recorded criteria is not sterile. Pathogens can survive in parts that stayed cool or ' +
      'return later. Wash hands and anything eaten raw, and follow local advice on food crops.',
    source: 'common practice',
  },
];
