import { type CsvLine, line, numberLines, textLines } from './csv-line.js';
import type { Facility } from './facility.js';

/** The key is the code of the yard; the label says of what within it. */
export function facilityLines(facility: Facility): CsvLine[] {
  const { code } = facility;
  const numbers = (section: string, label: string, of: object): CsvLine[] =>
    numberLines(`facility-${section}`, code, label, of);
  return [
    line('facility', code, facility.name, 'name', facility.name),
    ...facility.permits.flatMap(({ reference, validFrom, validTo }) => [
      line('facility-permit', code, reference, 'validFrom', validFrom, 'day'),
      line('facility-permit', code, reference, 'validTo', validTo, 'day'),
    ]),
    ...facility.receivedByMaterial.flatMap((one) => numbers('received', one.material, one)),
    ...facility.receivedByOrigin.flatMap((one) => numbers('origin', one.jurisdiction, one)),
    ...facility.bulking.flatMap((one) => numbers('bulking', one.material, one)),
    line('facility-water', code, '', 'mass', facility.waterKg, 'kg'),
    ...numbers('processed', '', facility.processed),
    ...facility.onSite.flatMap((one) => numbers('on-site', one.stage, one)),
    ...numbers('produced', '', facility.produced),
    ...facility.distributed.flatMap((one) => numbers('distributed', `${one.use}, ${one.recipient}`, one)),
    ...facility.residue.flatMap((one) => numbers('residue', one.wentTo, one)),
    ...facility.releases.flatMap((one) => [
      line('facility-release', code, one.batch, 'releasedOn', one.releasedOn, 'day'),
      line('facility-release', code, one.batch, 'rule', one.rule),
      line('facility-release', code, one.batch, 'status', one.status),
      line('facility-release', code, one.batch, 'hotHours', one.hotHours, 'h'),
      line('facility-release', code, one.batch, 'turns', one.turns),
      line('facility-release', code, one.batch, 'seal', one.seal),
    ]),
    ...facility.samples.flatMap((one) => numbers('sample', one.kind, one)),
    ...facility.complaints.flatMap((one, index) => [
      ...textLines('facility-complaint', code, `${index + 1}`, { kind: one.kind, about: one.about }),
      line('facility-complaint', code, `${index + 1}`, 'on', one.on, 'day'),
      ...one.done.map((done) => line('facility-complaint', code, `${index + 1}`, 'done', done)),
    ]),
  ];
}
