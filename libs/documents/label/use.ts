/** What compost may be handed out for. */
export type LabelUse =
  | 'vegetable-beds'
  | 'ornamental-beds'
  | 'lawns'
  | 'trees'
  | 'field-crops'
  | 'potting-mix'
  | 'soil-repair'
  | 'other';

export interface LabelText {
  text: string;
  /** A document, or "common practice". */
  source: string;
}

const COUNTY = 'Chester County Solid Waste Authority, Pennsylvania, Uses of Compost';
const STATE = 'Michigan Recycling Coalition, Compost: methods to use';

/** One or two sentences for whoever spreads it. Depths are those of the source, with centimetres beside. */
export const HOW_TO_USE: Readonly<Record<LabelUse, LabelText>> = {
  'vegetable-beds': {
    text: 'Spread no more than 2 in (5 cm) and work it into the top 4 to 6 in (10 to 15 cm). Wash what you harvest.',
    source: `${COUNTY}; washing: common practice`,
  },
  'ornamental-beds': {
    text: 'Work no more than 2 in (5 cm) into the top 4 to 6 in (10 to 15 cm), or lay it as a mulch of 3 in (7.5 cm) at most, off the stems.',
    source: `${COUNTY}; stems: common practice`,
  },
  lawns: {
    text: 'Sift it, spread it 1/4 in (6 mm) thick and rake it in; best after the lawn was cored.',
    source: COUNTY,
  },
  trees: {
    text: 'Lay no more than 3 in (7.5 cm), from 4 in (10 cm) off the trunk out to the drip line. Never heap it on bark.',
    source: `${COUNTY}; bark: common practice`,
  },
  'field-crops': {
    text: 'Spread by a soil test and what is known of the nutrients of this batch, and keep to the waiting time before harvest that your rules name.',
    source: 'common practice',
  },
  'potting-mix': {
    text: 'Sift it and let it be no more than a third of the mix by volume. Try a few seeds in it first.',
    source: `${COUNTY}; seeds: common practice`,
  },
  'soil-repair': {
    text: 'Spread 1 to 2 in (2.5 to 5 cm) and mix it in 6 to 8 in (15 to 20 cm) deep.',
    source: STATE,
  },
  other: {
    text: 'Mix it with soil before planting; do not plant or sow into it alone.',
    source: 'common practice',
  },
};

/** The usual cautions, short enough for a label; the batch record has them in full. */
export const LABEL_CAUTIONS: readonly LabelText[] = [
  {
    text: 'Wear gloves, wash your hands, cover cuts. Damp it before you spread it and do not breathe the dust: it carries spores. With a weak immune system or bad lungs, leave it to others.',
    source: 'common practice; spores: HSE RR786 (2010)',
  },
  {
    text: 'It is not sterile: wash what you eat raw. Not for animals.',
    source: 'common practice',
  },
  {
    text: 'Herbicide residue can outlast composting. Before use near peas, beans, tomatoes or other broad-leaved plants, grow beans in a pot of it beside one without for two to three weeks.',
    source:
      'US Composting Council, Persistent herbicide FAQ; Washington State University, Whatcom County, bioassay',
  },
  {
    text: 'Lift with care: share a full bag or use wheels.',
    source: 'common practice; 23 kg for one person at most: NIOSH 94-110',
  },
  {
    text: 'The local permit and the local authority govern where it may be used.',
    source: 'common practice',
  },
];
