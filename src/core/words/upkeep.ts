import { figure, type Sentences } from './types';

/** What the owner does in the first season, every year and before frost: the deed, its reason, and how. */
export const upkeepSentences: Sentences = {
  'soilwater.task-first-flush': () => ({
    what: 'After two weeks: open each flush valve with its zone on until the water runs clear, then close it.',
    why: 'Soil and chips from the building work are still in the tubing.',
    next: 'One valve at a time.',
  }),
  'soilwater.task-first-filter': () => ({
    what: 'After one week, and again after four: shut the zone, let the pressure off, rinse the filter screen.',
    why: 'A new system loads its filter fastest.',
    next: 'Put the screen back before the zone is opened.',
  }),
  'soilwater.task-first-walk': () => ({
    what: 'Every second week: run each zone for five minutes and walk it.',
    why: 'Staples lift and joints settle while the mulch is new.',
    next: 'Look for dry plants, wet holes and tubing that has come up.',
  }),
  'soilwater.task-first-calendar': () => ({
    what: 'Follow the establishment weeks, then set the controller to the months of the calendar.',
    why: 'New roots reach no deeper than their pots.',
    next: 'Change the minutes by the calendar, not the days first.',
  }),
  'soilwater.task-first-settling': () => ({
    what: 'At the end of the season: lift the mulch at a few emitters in each bed and look at the wet ground.',
    why: 'Wet patches should meet between rows below the surface.',
    next: 'Where they do not, water longer and less often; where it runs off, shorter and more often.',
  }),
  'soilwater.task-shut-off': () => ({
    what: 'To shut all water off: the shut-off at the connection.',
    why: 'A cut line runs until somebody shuts it.',
    next: 'Turn it once a year, so that it turns when it must.',
  }),
  'soilwater.task-flush': () => ({
    what: 'Spring and autumn: open each flush valve with its zone on until the water runs clear, then close it.',
    why: 'What settles where the flows meet plugs the emitters there.',
    next: 'One valve at a time.',
  }),
  'soilwater.task-filter': () => ({
    what: 'Spring and autumn, or when a zone looks dry: shut the zone, let the pressure off, rinse the filter screen.',
    why: 'A loaded filter takes the pressure that the far end needs.',
    next: 'Change the screen when it is torn or bent.',
  }),
  'soilwater.task-walk': () => ({
    what: 'Once a month in the season: run each zone for five minutes and walk it.',
    why: 'A dry plant or a wet hole means a cut or a plugged emitter.',
    next: 'Mend a cut with a coupling; replace tubing that is plugged along a length.',
  }),
  'soilwater.task-flow': () => ({
    what: 'Spring: read the meter over five minutes with each zone on, and hold it against the flow on this card.',
    why: 'A tenth less is plugging or a loaded filter; a tenth more is a leak.',
    next: 'Write the reading down with its date.',
  }),
  'soilwater.task-calendar': () => ({
    what: 'Each month: set the minutes of the calendar.',
    why: 'Plants in July need several times the water they need in January.',
    next: 'After a week of rain, skip until the ground under the mulch is dry to a finger.',
  }),
  'soilwater.task-backflow-test': () => ({
    what: 'Once a year: have the backflow preventer tested where local code asks for it.',
    why: 'It keeps garden water out of the drinking water.',
    next: 'Only a licensed tester may sign it.',
  }),
  'soilwater.task-dig': () => ({
    what: 'Before digging: tubing lies under the mulch, headers lie deeper. Look at the plan.',
    why: 'Most cuts are made by spades.',
    next: 'Call to have public lines marked first; private lines are not marked.',
  }),
  'soilwater.task-mulch': (params, print) => ({
    what: `Keep ${print.small(figure(params, 'depthM'))} of mulch over the tubing.`,
    why: 'Sun ages tubing, and bare ground dries.',
    next: 'Keep it off trunks and house walls.',
  }),
  'soilwater.task-winter-shut': () => ({
    what: 'Where the ground freezes, before frost: shut the main, open the flush valves and the drain points.',
    why: 'Water that freezes in valves, filters and backflow preventers breaks them.',
    next: 'Leave small ball valves half open; take the backflow preventer in where it can be taken off.',
  }),
  'soilwater.task-winter-blow-out': () => ({
    what: 'Blow out only at low pressure, with the regulator taken out and every flush valve open.',
    why: 'Air at full pressure bursts tubing and throws fittings.',
    next: 'Stand clear, eyes covered; leave it to a contractor where in doubt.',
  }),
  'soilwater.task-winter-open': () => ({
    what: 'In spring: close the drain points, open the main slowly, then flush every zone before it is closed.',
    why: 'Water let in fast hammers the pipe.',
    next: 'Walk every zone once it is closed.',
  }),
  'soilwater.task-sandy-water': () => ({
    what: 'With this water: look at the filter screens every month of the season, and flush four times a year.',
    why: 'Sand, iron and slime plug emitters sooner than town water does.',
    next: 'Have the water tested where screens load within weeks.',
  }),
  'soilwater.task-tank-clean': () => ({
    what: 'Once a year: let the tank down and clean it and its strainer.',
    why: 'Leaves and mud end in the filter.',
    next: 'Cover the inlet.',
  }),
  'soilwater.task-recycled-signs': () => ({
    what: 'Once a year: see that every mark and sign that says not to drink is there and can be read.',
    why: 'Nobody may drink this water or join it to drinking water.',
    next: 'Ask the purveyor for its own inspection.',
  }),
};
