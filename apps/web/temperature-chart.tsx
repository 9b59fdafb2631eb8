import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { BatchRecord } from '../../libs/documents/batch-record/record.js';
import { temperaturesOf, type Temperatures } from '../../libs/documents/batch-record/temperatures.js';
import type { TemperatureChart as Chart } from '../../libs/documents/chart/chart.js';
import { penOf } from '../../libs/documents/chart/pens.js';

const HEIGHT = 260;
const LANE = 18;
const MARGIN = { left: 54, right: 96, top: 34, bottom: 24 + 2 * LANE };
/** Drawn at the width it is shown at, so that its letters keep their size on a telephone. */
const NARROWEST = 320;

/** The same geometry that the PDF draws. */
export function TemperatureChart({ record }: { record: BatchRecord }) {
  const frame = useRef<HTMLElement>(null);
  const width = Math.max(useWidth(frame), NARROWEST);
  const temperatures = temperaturesOf(record, { width: width - MARGIN.left - MARGIN.right, height: HEIGHT });
  if (!temperatures) return <p>No temperatures yet.</p>;
  return (
    <figure class="temperatures" ref={frame}>
      <Drawing temperatures={temperatures} read={readBy(record)} />
      <figcaption>
        Shaded: time credited under the rule. Dotted and numbered: turns. Readings more than{' '}
        {temperatures.breakAfterHours} hours apart are not joined.
      </figcaption>
    </figure>
  );
}

/** "12 checks and 1 logger". */
function readBy({ checks, loggers }: BatchRecord): string {
  const counted = (count: number, noun: string) => `${count} ${noun}${count === 1 ? '' : 's'}`;
  const byHand = counted(checks.length, 'check');
  return loggers.length === 0 ? byHand : `${byHand} and ${counted(loggers.length, 'logger')}`;
}

function Drawing({ temperatures: { chart }, read }: { temperatures: Temperatures; read: string }) {
  const { width, height } = chart;
  const box = [
    -MARGIN.left,
    -MARGIN.top,
    width + MARGIN.left + MARGIN.right,
    height + MARGIN.top + MARGIN.bottom,
  ];
  const summary = `Temperatures, ${chart.lines.length} lines, of ${read}`;
  return (
    <svg viewBox={box.join(' ')} role="img" aria-label={summary} class="chart">
      <Credited chart={chart} />
      <Axes chart={chart} />
      <Turns chart={chart} />
      <Instants chart={chart} />
      {chart.lines.map((line, index) => (
        <Probe key={line.position} line={line} index={index} width={width} />
      ))}
    </svg>
  );
}

function Credited({ chart: { creditedSpans, width, height } }: { chart: Chart }) {
  const top = height + 24 + LANE;
  return (
    <Lane top={top} width={width} name="Credited">
      {creditedSpans.map(({ x, width: wide }) => (
        <g key={x}>
          <rect class="credited" x={x} y={0} width={wide} height={height} />
          <rect class="credit" x={x} y={top + 5} width={Math.max(wide, 1)} height={LANE - 10} />
        </g>
      ))}
    </Lane>
  );
}

/** A strip under the plot, with its name at the left. */
function Lane(lane: { top: number; width: number; name: string; children: ComponentChildren }) {
  return (
    <g>
      <text x={-MARGIN.left} y={lane.top + 13}>
        {lane.name}
      </text>
      <line class="grid" x1={0} x2={lane.width} y1={lane.top + LANE} y2={lane.top + LANE} />
      {lane.children}
    </g>
  );
}

function Axes({ chart: { temperatureTicks, timeTicks, width, height } }: { chart: Chart }) {
  return (
    <g>
      {temperatureTicks.map(({ y, temperatureC }) => (
        <g key={y}>
          <line class="grid" x1={0} x2={width} y1={y} y2={y} />
          <text x={-6} y={y + 4} text-anchor="end">
            {temperatureC} °C
          </text>
        </g>
      ))}
      {timeTicks.map(({ x, label }) => (
        <text key={x} x={x} y={height + 16} text-anchor="middle">
          {label}
        </text>
      ))}
    </g>
  );
}

function Turns({ chart: { turns, width, height } }: { chart: Chart }) {
  const top = height + 24;
  let free = -Infinity;
  return (
    <Lane top={top} width={width} name="Turns">
      {turns.map(({ x, number }) => {
        // a number that would touch the one before is left out; its line stays
        const numbered = x >= free;
        if (numbered) free = x + 14;
        return (
          <g key={number}>
            <line class="turn" x1={x} x2={x} y1={0} y2={height} />
            {numbered && (
              <text x={x} y={top + 13} text-anchor="middle">
                {number}
              </text>
            )}
          </g>
        );
      })}
    </Lane>
  );
}

/** The threshold, and the instants that the rule names. */
function Instants({ chart: { threshold, marks, width, height } }: { chart: Chart }) {
  return (
    <g>
      {threshold && (
        <>
          <path class="threshold" d={`M0 ${threshold.y}H${width}L${width + 6} ${threshold.labelY}`} />
          <text x={width + 9} y={threshold.labelY + 4}>
            {threshold.temperatureC} °C threshold
          </text>
        </>
      )}
      {marks.map(({ x, label }, index) => {
        const top = -13 * (marks.length - index);
        const toLeft = x > width / 2;
        return (
          <g key={label}>
            <line class="threshold" x1={x} x2={x} y1={top} y2={height} />
            <text x={toLeft ? x - 4 : x + 4} y={top + 8} text-anchor={toLeft ? 'end' : 'start'}>
              {label}
            </text>
          </g>
        );
      })}
    </g>
  );
}

/** One position: its line, a mark on each reading that stands alone, and its name beside the last reading. */
function Probe({ line, index, width }: { line: Chart['lines'][number]; index: number; width: number }) {
  const { dash, mark } = penOf(index);
  const places = [...line.points, { x: width + 12, y: line.labelY }];
  return (
    <g>
      <path class="probe" d={line.path} stroke-dasharray={dash?.join(' ')} />
      {width - line.end.x < 12 && (
        <path class="grid" d={`M${line.end.x + 2} ${line.end.y}L${width + 8} ${line.labelY}`} />
      )}
      {places.map(({ x, y }) => (
        <path
          key={`${x} ${y}`}
          class={`mark ${mark.look}`}
          d={mark.path}
          transform={`translate(${x} ${y})`}
        />
      ))}
      <text x={width + 19} y={line.labelY + 4}>
        {line.position}
      </text>
    </g>
  );
}

function useWidth(frame: { readonly current: HTMLElement | null }): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const { current } = frame;
    if (!current) return;
    const observer = new ResizeObserver(() => setWidth(current.clientWidth));
    observer.observe(current);
    return () => observer.disconnect();
  }, []);
  return width;
}
