import type { ProcessRule } from '../rule.js';
import { auHighRisk, auTurned } from './au-as-4454.js';
import { ccmeInVessel, ccmeStaticAerated, ccmeWindrow } from './ca-ccme-2005.js';
import { deBioAbfV55, deBioAbfV60, deBioAbfV65, deBioAbfVPasteurisation } from './de-bioabfv.js';
import { eu55, eu60, eu65, eu70 } from './eu-2019-1009.js';
import { gbCateringClosed60, gbCateringClosed70, gbCateringHousedWindrow } from './gb-catering.js';
import { gbPas100 } from './gb-pas-100.js';
import { us257StaticOrVessel, us257Windrow } from './us-257.js';
import { us503Psrp, us503VectorAttraction } from './us-503-other.js';
import { us503InVessel, us503StaticAerated, us503Windrow } from './us-503-pfrp.js';
import { usCaInVessel, usCaStaticAerated, usCaWindrow } from './us-ca-17868-3.js';
import { usFdaStatic, usFdaTurned } from './us-fda-112-54.js';
import { usMaLowTemperature } from './us-ma-32-80.js';
import { usNopStaticOrVessel, usNopWindrow } from './us-nop-205-203.js';
import { usNyStaticOrVessel, usNyWindrow } from './us-ny-361-3-7.js';
import { usTxStaticOrVessel, usTxWindrow } from './us-tx-332-23.js';

/** Every rule of the library, those of one text together. */
export const processRules: readonly ProcessRule[] = [
  ...[us503Windrow, us503StaticAerated, us503InVessel, us503Psrp, us503VectorAttraction],
  ...[us257Windrow, us257StaticOrVessel],
  ...[usNopWindrow, usNopStaticOrVessel],
  ...[usFdaTurned, usFdaStatic],
  ...[usNyWindrow, usNyStaticOrVessel],
  ...[usCaWindrow, usCaStaticAerated, usCaInVessel],
  ...[usTxWindrow, usTxStaticOrVessel],
  usMaLowTemperature,
  ...[ccmeWindrow, ccmeStaticAerated, ccmeInVessel],
  ...[gbCateringClosed60, gbCateringClosed70, gbCateringHousedWindrow],
  gbPas100,
  ...[deBioAbfV55, deBioAbfV60, deBioAbfV65, deBioAbfVPasteurisation],
  ...[eu70, eu65, eu60, eu55],
  ...[auTurned, auHighRisk],
];

const byCode = new Map(processRules.map((rule) => [rule.code, rule]));

export function processRule(code: string): ProcessRule | undefined {
  return byCode.get(code);
}
