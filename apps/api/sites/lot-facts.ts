import type { IntakeAnswer, IntakeFacts, LotRefs } from './site-facts.js';

type Permit = NonNullable<IntakeAnswer['permits']>[number];

/** What each lot refers to, picked out of what all of them together name. */
export function lotFacts(answer: IntakeAnswer, lots: readonly LotRefs[]): IntakeFacts[] {
  const materials = new Map(answer.materials?.map((material) => [material.code, material]));
  const containers = new Map(answer.containers?.map((container) => [container.id, container]));
  const instruments = new Map(answer.instruments?.map((instrument) => [instrument.id, instrument]));
  const jurisdictions = new Set(answer.jurisdictions);
  return lots.map(({ materialCode, jurisdictionId, containerId, instrumentId }, index) => ({
    site: answer.site,
    material: materials.get(materialCode ?? '') ?? null,
    jurisdictionKnown: jurisdictionId === undefined || jurisdictions.has(jurisdictionId.toLowerCase()),
    container: containers.get(keyOf(containerId)) ?? null,
    instrument: instruments.get(keyOf(instrumentId)) ?? null,
    permit: permitOf(answer.permits ?? [], answer.days[index] ?? '', materialCode),
  }));
}

/** The database writes a UUID in small letters, a client as it likes. */
const keyOf = (id: string | undefined) => id?.toLowerCase() ?? '';

function permitOf(
  permits: readonly Permit[],
  day: string,
  materialCode: string | undefined,
): IntakeFacts['permit'] {
  const permit = permits.find(
    ({ validFrom, validTo }) => validFrom <= day && (validTo === null || day <= validTo),
  );
  if (!permit) return null;
  const { id, reference, materials } = permit;
  const allowsMaterial = materials.length === 0 || materials.includes(materialCode ?? '');
  return { id, reference, allowsMaterial };
}
