import type { ChainLink } from './audit.records.js';

export interface ChainFault {
  seal: number | null;
  text: string;
}

/** What does not hold in the chain, in words. Links in order of their numbers. */
export function chainFaults(links: readonly ChainLink[]): ChainFault[] {
  return links.flatMap((link, index) => {
    const { number: seal } = link;
    const told = (text: string): ChainFault => ({ seal, text });
    const before = links[index - 1]?.number ?? 0;
    if (seal > before + 1) return [told(missingSeals(before + 1, seal - 1))];
    const faults: ChainFault[] = [];
    const begins = (link.previousToSeq ?? 0) + 1;
    if (link.fromSeq !== begins) {
      faults.push(told(`Seal ${seal} begins at event ${link.fromSeq}; it should begin at ${begins}.`));
    }
    if (link.sealFound !== link.seal) faults.push(told(`${whatChanged(link)}, or the seal before was.`));
    return faults;
  });
}

function missingSeals(from: number, to: number): string {
  return from === to ? `Seal ${from} is missing.` : `Seals ${from} to ${to} are missing.`;
}

function whatChanged({ fromSeq, toSeq, events, eventsFound }: ChainLink): string {
  const run = `Events ${fromSeq} to ${toSeq}`;
  if (eventsFound === events) return `${run} were altered after they were sealed`;
  return `${run}: ${events} were sealed and ${eventsFound} are there; some were removed or added`;
}
