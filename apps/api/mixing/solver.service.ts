import { Injectable, type OnApplicationBootstrap } from '@nestjs/common';
import {
  additionsFor,
  type AdditionsAnswer,
  type AdditionsQuestion,
  handOut,
  type HandedOut,
  type Wanting,
  withHighs,
} from '#libs/materials';

/** Loaded before the first request, which would wait for it otherwise. */
@Injectable()
export class SolverService implements OnApplicationBootstrap {
  async onApplicationBootstrap(): Promise<void> {
    await withHighs(() => undefined);
  }

  additions(question: AdditionsQuestion): Promise<AdditionsAnswer> {
    return withHighs((solve) => additionsFor(question, solve));
  }

  handOut<Key>(
    batches: readonly Wanting<Key>[],
    stock: Pick<AdditionsQuestion, 'candidates' | 'leastBy' | 'obtainable'>,
  ): Promise<HandedOut<Key>> {
    return withHighs((solve) => handOut(batches, stock, solve));
  }
}
