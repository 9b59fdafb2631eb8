import { diversionReportPdf, sealOf } from '#libs/documents';
import { diversionReport } from '../support/diversion-report.js';

/** Of a process that does nothing else: what drawing one report adds at the highest, in MB, on standard output. */
const report = diversionReport();
const seal = sealOf(report);
const peakMb = () => process.resourceUsage().maxRSS / 1000;
const idleMb = peakMb();
await diversionReportPdf(report, seal);
process.stdout.write(String(peakMb() - idleMb));
