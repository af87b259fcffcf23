import type { ReactElement } from 'react';
import { type Plan, plantNeedSchema, soilClassSchema, sunSchema } from '../../core/plan';
import { runAction } from '../actions/run';
import { CheckField } from '../parts/CheckField';
import { ChoiceField } from '../parts/ChoiceField';
import { ClimateFields } from '../parts/ClimateFields';
import { DrawingSizesFields } from '../parts/DrawingSizesFields';
import { EarthFields } from '../parts/EarthFields';
import { ItemFields } from '../parts/ItemFields';
import { JarTest } from '../parts/JarTest';
import { QuantityField } from '../parts/QuantityField';
import { Section } from '../parts/Section';
import { TextField } from '../parts/TextField';
import { WateringHours } from '../parts/WateringHours';
import { useDesk } from '../state/desk';
import { edit } from '../state/edit';
import { PLANT_NAMES, SOIL_NAMES, SUN_NAMES } from '../wording';

const setSite = (changes: Partial<Plan['site']>): boolean => edit({ name: 'set-site', params: { changes } });
const setProject = (changes: Partial<Plan['project']>): boolean =>
  edit({ name: 'set-project', params: { changes } });

const NOT_SAID = ['', 'not said'] as const;

/** Who and where, the ground and the climate. */
export function SitePage(): ReactElement {
  const plan = useDesk((state) => state.history.plan);
  const { site, project } = plan;
  const isBare = Object.keys(plan.structures).length === 0;
  return (
    <>
      {isBare ? (
        <p className="teach">
          Trace the house and the paving first: beds take what they run along from them. Or bring in a picture
          of the plot and draw over it.
        </p>
      ) : null}
      <DrawingSizesFields />
      <ItemFields />
      <Section title="Project">
        <TextField label="Title" value={project.title} onSet={(title) => setProject({ title })} />
        <TextField label="Place" value={project.place} onSet={(place) => setProject({ place })} />
        <TextField label="Client" value={project.client} onSet={(client) => setProject({ client })} />
        <TextField label="Designer" value={project.designer} onSet={(designer) => setProject({ designer })} />
        <TextField
          label="Call before digging"
          empty="locating service"
          value={project.oneCallNumber}
          onSet={(oneCallNumber) => setProject({ oneCallNumber })}
        />
      </Section>
      <Section title="Units" aside="stored figures stay as they are">
        <ChoiceField
          label="Written in"
          isLong
          value={plan.display.units}
          choices={[
            ['us', 'feet and inches, gallons, psi'],
            ['metric', 'metres, litres, kPa'],
          ]}
          onChoose={(units) => edit({ name: 'set-display', params: { changes: { units } } })}
        />
      </Section>
      <EarthFields georeference={plan.georeference} />
      <Section title="Ground, where a bed does not say">
        <ChoiceField
          label="Soil"
          value={site.soil ?? ''}
          choices={[NOT_SAID, ...soilClassSchema.options.map((key) => [key, SOIL_NAMES[key]] as const)]}
          onChoose={(soil) => setSite({ soil: soil === '' ? null : (soil as Plan['site']['soil']) })}
        />
        <JarTest onSoil={(soil) => setSite({ soil })} />
        <CheckField
          label="Soil swells and shrinks: tubing keeps further off foundations"
          isOn={site.expansiveSoil}
          onTurn={(expansiveSoil) => setSite({ expansiveSoil })}
        />
        <ChoiceField
          label="Plants"
          value={site.plants ?? ''}
          choices={[NOT_SAID, ...plantNeedSchema.options.map((key) => [key, PLANT_NAMES[key]] as const)]}
          onChoose={(plants) =>
            setSite({ plants: plants === '' ? null : (plants as Plan['site']['plants']) })
          }
        />
        <ChoiceField
          label="Sun"
          value={site.sun ?? ''}
          choices={[NOT_SAID, ...sunSchema.options.map((key) => [key, SUN_NAMES[key]] as const)]}
          onChoose={(sun) => setSite({ sun: sun === '' ? null : (sun as Plan['site']['sun']) })}
        />
      </Section>
      <ClimateFields climate={site.climate} />
      <Section title="Season">
        <QuantityField
          label="Season’s share"
          measure="share"
          value={site.seasonalRatio}
          onSet={(seasonalRatio) => setSite({ seasonalRatio: seasonalRatio ?? 1 })}
        />
      </Section>
      <WateringHours window={site.wateringWindow} />
      <p className="caution">
        Have buried lines located and marked before anyone digs. Known lines drawn here are no substitute for
        it.
      </p>
      <button type="button" className="act" onClick={() => runAction('view.grid')}>
        Catch the grid
      </button>
    </>
  );
}
