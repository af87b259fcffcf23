import type { ReactElement } from 'react';
import { CATCH_KINDS } from '../../core/geometry';
import { runAction } from '../actions/run';
import { PartSymbol } from '../look/PartSymbol';
import { useTool } from '../state/tools';
import type { DrawingSizes } from '../tools/tool';
import type { ToolKey } from '../tools/toolTable';
import { CATCH_WORDS } from '../wording';
import { Act } from './Act';
import { MeasureFields } from './MeasureFields';
import { QuantityField } from './QuantityField';
import { Section } from './Section';
import { TextField } from './TextField';

type SizeKey = Exclude<keyof DrawingSizes, 'noteText'>;

/** Sizes a tool draws with, by tool. */
const SIZES: Readonly<Partial<Record<ToolKey, readonly (readonly [SizeKey, string])[]>>> = {
  walk: [['walkWidthM', 'Width of the walk']],
  tree: [
    ['canopyRadiusM', 'Radius of the canopy'],
    ['trunkRadiusM', 'Radius of the trunk'],
  ],
  plant: [['rootBallRadiusM', 'Radius of the root ball']],
  boulder: [['obstacleRadiusM', 'Radius of the boulder']],
  utility: [['lineDepthM', 'Depth of the line']],
  spot: [['spotElevationM', 'Height over the datum']],
  pull: [['giveM', 'Tubing gives way over']],
};

const TRACES: ReadonlySet<ToolKey> = new Set([
  'outline',
  'hole',
  'building',
  'paving',
  'obstacle-area',
  'loop',
]);

function setSize(key: SizeKey, value: number | null): void {
  if (value === null) return;
  useTool.setState(({ sizes }) => ({ sizes: { ...sizes, [key]: value } }));
}

/** What the tool that is out draws with, how its entries may be written, and what the pointer can catch. */
export function DrawingSizesFields(): ReactElement | null {
  const key = useTool((state) => state.key);
  const sizes = useTool((state) => state.sizes);
  const edge = useTool((state) => (state.state as { readonly edge?: string } | null)?.edge);
  const caught = useTool((state) => state.caught?.kind);
  if (key === null) return null;
  const drawnWith = SIZES[key] ?? [];
  return (
    <>
      {drawnWith.length > 0 || key === 'note' ? (
        <Section title="Drawn with">
          {drawnWith.map(([size, label]) => (
            <QuantityField
              key={size}
              label={label}
              measure="length"
              value={sizes[size]}
              onSet={(value) => setSize(size, value)}
            />
          ))}
          {key === 'note' ? (
            <TextField
              label="Words of the note"
              value={sizes.noteText}
              onSet={(noteText) => useTool.setState({ sizes: { ...sizes, noteText } })}
            />
          ) : null}
        </Section>
      ) : null}
      {TRACES.has(key) ? (
        <div className="acts" role="toolbar" aria-label="Next edge">
          {(['straight', 'arc', 'freehand'] as const).map((kind) => (
            <button
              key={kind}
              type="button"
              className={edge === kind ? 'act is-out' : 'act'}
              aria-pressed={edge === kind}
              onClick={() => {
                runAction(`edge.${kind}`);
                document.getElementById('sketch')?.focus();
              }}
            >
              {{ straight: 'Straight', arc: 'Arc', freehand: 'By hand' }[kind]}
            </button>
          ))}
          <Act action="edge.back" />
          <Act action="edge.close" />
        </div>
      ) : null}
      <MeasureFields />
      <Section title="A length may be written">
        <dl className="ways">
          <dt>12&apos;6</dt>
          <dd>12&apos;-6&quot;</dd>
          <dt>3.81 m</dt>
          <dd>12&apos;-6&quot;</dd>
          <dt>12&apos;6 at 30</dt>
          <dd>30° from east</dd>
          <dt>12&apos;6 x 20&apos;</dt>
          <dd>a size</dd>
          <dt>E 10 N 5</dt>
          <dd>a place</dd>
        </dl>
      </Section>
      <Section title="What the pointer can catch">
        <ul className="catches">
          {CATCH_KINDS.map((kind) => (
            <li key={kind} className={caught === kind ? 'is-caught' : undefined}>
              <PartSymbol name={`catch-${kind}`} size={18} /> {CATCH_WORDS[kind]}
            </li>
          ))}
        </ul>
      </Section>
    </>
  );
}
