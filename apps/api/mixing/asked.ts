import type { AdditionsQuestion, LeastBy, MaterialFigures } from '#libs/materials';
import type { PermitFacts } from '../sites/site-facts.service.js';
import type { Grade } from './additions.dto.js';
import type { Built, Contradicted } from './built.service.js';

export interface Ask {
  leastBy: LeastBy;
  grade: Grade;
}

/** What a batch is asked about, and what was kept out of the question. */
export interface Asked {
  built: Built;
  permit: PermitFacts | null;
  question: AdditionsQuestion;
  contradicted: Contradicted[];
  /** Stock that the permit does not list. */
  notListed: MaterialFigures[];
  ask: Ask;
}
