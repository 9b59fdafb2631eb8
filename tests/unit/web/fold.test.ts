import { describe, expect, it } from 'vitest';
import { folded } from '../../../apps/web/fold.js';

const LONG = 'It was read by probe 3, which was set aside on 4 June. '.repeat(5);

describe('a long text on a page', () => {
  it('shows its first sentence, and loses nothing', () => {
    const text = `Cured 20 of 30 days since 5 Nov 2026 01:02. ${LONG}`;
    expect(folded(text)).toEqual(['Cured 20 of 30 days since 5 Nov 2026 01:02.', LONG]);
  });

  it('is not cut at an initial or a figure', () => {
    const text = `The U.S. EPA asks for 1.5 times as much. ${LONG}`;
    expect(folded(text)[0]).toBe('The U.S. EPA asks for 1.5 times as much.');
  });

  it('stays whole where it is short, or one sentence', () => {
    expect(folded('Met. Read by the manager.')).toEqual(['Met. Read by the manager.', '']);
    const one = 'and so on, '.repeat(40);
    expect(folded(one)).toEqual([one, '']);
  });
});
