import {
  CHECKED,
  gapsInWords,
  greensInWords,
  laterInWords,
  MATERIAL_NAMES,
  MATERIAL_UNITS,
  MIX_NAMES,
  rangeInWords,
  sourcesInWords,
  standingInWords,
} from '../../../libs/documents/batch-record/mix-words.js';
import {
  MATERIAL_FIGURES,
  type MaterialFigure,
  type MaterialValue,
  MIX_FIGURES,
  type MixFigures,
  type MixMaterial,
  type MixValue,
} from '../../../libs/documents/batch-record/record-mix.js';
import type { BatchRecord } from '../../../libs/documents/batch-record/record.js';
import { kg, moment } from '../figures.js';

/** What the mix comes to, between what, and how that stands to what is asked of it. */
export function Mix({ record }: { record: BatchRecord }) {
  const { mix, site } = record;
  if (!mix) return null;
  const later = laterInWords(record);
  const greens = greensInWords(mix.greensToBrowns);
  return (
    <section>
      <h2>Mix</h2>
      <dl class="figures">
        {MIX_FIGURES.map((name) => (
          <FigureOfMix key={name} name={name} mix={mix} />
        ))}
        {greens && (
          <div>
            <dt>Greens to browns</dt>
            <dd>{greens}</dd>
          </div>
        )}
      </dl>
      <p>
        {kg(mix.massKg)} kg
        {mix.weighedKg !== null &&
          mix.estimatedKg !== null &&
          `: ${kg(mix.weighedKg)} kg weighed, ${kg(mix.estimatedKg)} kg estimated`}
        .{mix.figuresAsOf && ` As it was on ${moment(mix.figuresAsOf, site.timeZone)}.`}
        {mix.missing.length > 0 && ` Not known, and left out: ${gapsInWords(mix.missing)}.`}
      </p>
      {later !== null && <p>{later}</p>}
      {mix.contradicted.map(({ material, detail }) => (
        <p key={material} role="alert">
          The figures of {material} were taken as unknown: {detail}.
        </p>
      ))}
      {mix.cautions.length > 0 && (
        <>
          <h3>Take care with these materials</h3>
          <ul>
            {mix.cautions.map(({ text, source, materials }) => (
              <li key={text}>
                <strong>{materials.join('; ')}</strong> {text} <small>({source})</small>
              </li>
            ))}
          </ul>
        </>
      )}
      <WhereFrom mix={mix} />
    </section>
  );
}

function FigureOfMix({ name, mix }: { name: (typeof MIX_FIGURES)[number]; mix: MixFigures }) {
  const { value, range, knownMassPercent } = mix.figures[name];
  const targets = mix.targets.filter(({ figure }) => figure === name);
  return (
    <div>
      <dt>{MIX_NAMES[name]}</dt>
      <dd>
        {value === null ? 'not known' : <strong>{value}</strong>}
        {value !== null && range && `, ${betweenWords(range)}`}
        {value !== null && knownMassPercent < 100 && `, known for ${knownMassPercent} % of the mass`}
        {value !== null && (
          <ul>
            {targets.map((target) => (
              <li key={target.grade}>{standingInWords(target)}</li>
            ))}
          </ul>
        )}
      </dd>
    </div>
  );
}

const betweenWords = ({ min, max }: NonNullable<MixValue['range']>): string =>
  max === null ? `${String(min)} or more` : `between ${String(min)} and ${String(max)}`;

function WhereFrom({ mix }: { mix: MixFigures }) {
  return (
    <details>
      <summary>Where these figures come from</summary>
      {mix.method && <p>{mix.method}</p>}
      <p>
        Not for sure: the range reaches further than the state that is told, or some of the mass is not known.
        What is asked for is from {sourcesInWords(mix.targets.map(({ source }) => source))}.
      </p>
      {mix.withoutRange.length > 0 && (
        <p>Taken as a point, since no range is known: {gapsInWords(mix.withoutRange)}.</p>
      )}
      {mix.materials.map((material) => (
        <Material key={material.name} material={material} />
      ))}
    </details>
  );
}

function Material({ material: { name, massKg, figures } }: { material: MixMaterial }) {
  const known = MATERIAL_FIGURES.flatMap((figure) => {
    const value = figures[figure];
    return value ? [{ figure, value }] : [];
  });
  return (
    <>
      <h3>
        {name} <small>{kg(massKg)} kg</small>
      </h3>
      {known.length === 0 ? (
        <p>No figure is known.</p>
      ) : (
        <ul>
          {known.map(({ figure, value }) => (
            <li key={figure}>
              {MATERIAL_NAMES[figure]} {inWords(figure, value)} <small>({sourceOf(value)})</small>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

/** "2.3 % of dry matter, found from 1.4 to 2.9". */
function inWords(figure: MaterialFigure, { typical, min, max }: MaterialValue): string {
  const range = min === null && max === null ? '' : `, found: ${rangeInWords({ min, max })}`;
  return `${String(typical)}${MATERIAL_UNITS[figure]}${range}`;
}

const sourceOf = ({ source, verification, measuredOn }: MaterialValue): string =>
  `${source}${measuredOn === null ? '' : `, sampled on ${measuredOn}`}; ${CHECKED[verification]}`;
