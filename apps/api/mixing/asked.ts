import type { AdditionsQuestion, LeastBy, MaterialFigures } from '#libs/materials';
import type { Grade } from './additions.dto.js';
import type { Built, Contradicted } from './built.service.js';
import type { OnHand } from './on-hand.service.js';

export interface Ask {
  leastBy: LeastBy;
  grade: Grade;
}

/** A batch, and how it stands to what is asked of it. */
export interface Standing extends Pick<AdditionsQuestion, 'parts' | 'targets'> {
  built: Built;
  ask: Ask;
}

/** What a batch is asked about, and what was kept out of the question. */
export interface Asked {
  built: Built;
  ask: Ask;
  onHand: OnHand;
  question: AdditionsQuestion;
  contradicted: Contradicted[];
}

/** A material of the programme, by its code. */
export type Named = (code: string) => MaterialFigures;
