import type { BatchRecord } from '../../libs/documents/batch-record/record.js';
import { temperatureChart } from '../../libs/documents/chart/chart.js';

const PLOT = { width: 720, height: 260 };
const MARGIN = { left: 44, right: 90, top: 10, bottom: 28 };

/** Dash patterns tell the probes apart without colour. */
const DASHES = ['', '6 3', '2 3', '8 3 2 3'];

/** The same geometry that the PDF draws. */
export function TemperatureChart({ record }: { record: BatchRecord }) {
  const { checks, verdict, actions, site } = record;
  const chart = temperatureChart({
    ...PLOT,
    timeZone: site.timeZone,
    checks,
    thresholdC: verdict?.required.thresholdC ?? null,
    breakAfterHours: verdict?.required.longestGapHours ?? null,
    turns: actions
      .filter(({ kind }) => kind === 'turn' || kind === 'move')
      .map(({ occurredAt }) => occurredAt),
    creditedSpans: verdict?.creditedSpans ?? [],
    marks: [],
  });
  if (!chart) return <p>No temperatures yet.</p>;
  const summary = `Temperatures of ${chart.lines.length} probe positions over ${checks.length} checks`;
  return (
    <svg
      viewBox={`${-MARGIN.left} ${-MARGIN.top} ${PLOT.width + MARGIN.left + MARGIN.right} ${PLOT.height + MARGIN.top + MARGIN.bottom}`}
      role="img"
      aria-label={summary}
      class="chart"
    >
      {chart.creditedSpans.map((span) => (
        <rect key={span.x} class="credited" x={span.x} y={0} width={span.width} height={PLOT.height} />
      ))}
      {chart.temperatureTicks.map((tick) => (
        <g key={tick.y}>
          <line class="grid" x1={0} x2={PLOT.width} y1={tick.y} y2={tick.y} />
          <text x={-6} y={tick.y + 4} text-anchor="end">
            {tick.temperatureC} °C
          </text>
        </g>
      ))}
      {chart.timeTicks.map((tick) => (
        <text key={tick.x} x={tick.x} y={PLOT.height + 18} text-anchor="middle">
          {tick.label}
        </text>
      ))}
      {chart.threshold && (
        <>
          <line class="threshold" x1={0} x2={PLOT.width} y1={chart.threshold.y} y2={chart.threshold.y} />
          <text x={PLOT.width + 4} y={chart.threshold.labelY + 4}>
            {chart.threshold.temperatureC} °C
          </text>
        </>
      )}
      {chart.turns.map((turn) => (
        <text key={turn.x} x={turn.x} y={PLOT.height - 4} text-anchor="middle">
          ▲<title>Turn {turn.number}</title>
        </text>
      ))}
      {chart.lines.map((line, index) => (
        <g key={line.position}>
          <path class="probe" d={line.path} stroke-dasharray={DASHES[index % DASHES.length]} />
          <text x={PLOT.width + 4} y={line.labelY + 4}>
            {line.position}
          </text>
        </g>
      ))}
    </svg>
  );
}
