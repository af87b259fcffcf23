import type { Params } from '../units';
import { foresightText } from './foresight';
import { figure, type Sentences, text } from './types';

/** Causes as the review names them, "code|bed", in words. */
function causesOf(params: Params): string {
  const causes = params.causes;
  const names: Readonly<Record<string, string | ((run: string, along: string) => string)>> =
    foresightText.faults;
  return (Array.isArray(causes) ? causes : [])
    .map((cause: string) => {
      const [code = '', bed = ''] = cause.split('|');
      const name = names[code] ?? code;
      return typeof name === 'string' ? name : name(bed === '' ? foresightText.another : bed, '');
    })
    .join('; ');
}

const mend = (what: string, why: string) => () => ({ what, why, next: '' });

/** What each mend changes, as its button says it. */
const mends: Sentences = {
  'review.mend-lower-setting': mend(
    'Take the next lower regulator setting',
    'Changes the assembly of this valve.',
  ),
  'review.mend-choose-assembly': mend(
    'Let the program choose the assembly',
    'Clears the assembly chosen for this valve.',
  ),
  'review.mend-choose-size': mend(
    'Let the program choose the pipe size',
    'Keeps the line drawn by hand, clears its size.',
  ),
  'review.mend-take-backflow': mend(
    'Take this device into the plan',
    'Local code still decides whether it is allowed.',
  ),
  'review.mend-reduced-pressure': mend(
    'Take a reduced pressure assembly',
    'It costs more pressure. Local code decides.',
  ),
  'review.mend-let-zones-be-chosen': mend('Let the program group these beds', 'Clears their zone names.'),
  'review.mend-default-offset': mend(
    'Use the default offset from the foundation',
    'Changes the offset of this bed.',
  ),
  'review.mend-solved-run-limit': mend(
    'Use the longest run that was solved for',
    'Clears the longest run set for this bed; its loops are cut to length.',
  ),
  'review.mend-add-spur': mend(
    'Give this plant a spur',
    'Adds a short piece of tubing on a tee from the nearest row.',
  ),
  'review.mend-shift-row': mend(
    'Shift the row toward this plant',
    'Locks the route of the bed as it stands, with this row moved.',
  ),
  'review.mend-add-stations': mend(
    'Give the controller enough stations',
    'Changes the number of its stations.',
  ),
};

/** Findings about pressure, flow and speed. */
const hydraulicFindings: Sentences = {
  'review.emitter-below-least': (params, print) => ({
    what: `Zone ${text(params, 'zone')}: the emitter worst off, in ${text(params, 'bed')} at ${print.tubing(figure(params, 'distanceM'))} along ${text(params, 'run')}, has ${print.pressure(figure(params, 'headM'))}; it needs ${print.pressure(figure(params, 'limitHeadM'))}.`,
    why: 'Below it an emitter gives less than its flow, and a check valve may stay shut.',
    next: 'Split the zone, feed the bed from nearer, widen the header, or take a higher setting.',
  }),
  'review.emitter-above-greatest': (params, print) => ({
    what: `Zone ${text(params, 'zone')}: an emitter of ${text(params, 'bed')} stands at ${print.pressure(figure(params, 'headM'))}; its limit is ${print.pressure(figure(params, 'limitHeadM'))}.`,
    why: 'Above it emitters no longer hold their flow and barbed fittings may come off.',
    next: 'Take a lower regulator setting, or put the low bed on a valve of its own.',
  }),
  'review.regulator-short-of-inlet': (params, print) => ({
    what: `Zone ${text(params, 'zone')}: the regulator gets ${print.pressure(figure(params, 'headM'))}; to hold ${print.pressure(figure(params, 'settingHeadM'))} it needs ${print.pressure(figure(params, 'limitHeadM'))}.`,
    why: 'It stands open, and the zone follows every swing of the source.',
    next: 'Take a lower setting, a backflow preventer that costs less, or a thicker main.',
  }),
  'review.flow-below-assembly': (params, print) => ({
    what: `Zone ${text(params, 'zone')} takes ${print.flow(figure(params, 'flowM3s'))}; its assembly works from ${print.flow(figure(params, 'leastM3s'))} up.`,
    why: 'With less flow the valve may not close and the regulator may not regulate.',
    next: 'Take a low-flow assembly, or join the bed to another zone of its kind.',
  }),
  'review.flow-above-assembly': (params, print) => ({
    what: `Zone ${text(params, 'zone')} takes ${print.flow(figure(params, 'flowM3s'))}; its assembly works up to ${print.flow(figure(params, 'mostM3s'))}.`,
    why: 'With more flow valve and filter take too much pressure.',
    next: 'Take a larger assembly, or split the zone.',
  }),
  'review.pressure-agrees': (params, print) => ({
    what: `Zone ${text(params, 'zone')}, ${text(params, 'place')}: ${print.pressure(figure(params, 'found'))} was read${readBy(params)}, ${print.pressure(figure(params, 'predicted'))} predicted.`,
    why: 'The reading agrees with the design and is kept as the as-built record.',
    next: 'Read it again each year; a drift tells of a filter or a leak.',
  }),
  'review.pressure-differs': (params, print) => ({
    what: `Zone ${text(params, 'zone')}, ${text(params, 'place')}: ${print.pressure(figure(params, 'found'))} was read${readBy(params)}, ${print.pressure(figure(params, 'predicted'))} predicted, ${print.pressure(figure(params, 'allowed'))} either way allowed.`,
    why: 'The zone as built is not the zone as solved.',
    next: 'Shut and read again; then look at filter, regulator, valve and for a cut or kinked run.',
  }),
  'review.flow-agrees': (params, print) => ({
    what: `Zone ${text(params, 'zone')}: ${print.flow(figure(params, 'found'))} was read${readBy(params)}, ${print.flow(figure(params, 'predicted'))} predicted.`,
    why: 'The reading agrees with the design and is kept as the as-built record.',
    next: 'Read it again each year; more tells of a leak, less of clogging.',
  }),
  'review.flow-differs': (params, print) => ({
    what: `Zone ${text(params, 'zone')}: ${print.flow(figure(params, 'found'))} was read${readBy(params)}, ${print.flow(figure(params, 'predicted'))} predicted, ${print.flow(figure(params, 'allowed'))} either way allowed.`,
    why: 'More flow tells of a leak or an open end, less of a shut valve, a loaded filter or a kink.',
    next: 'Walk every row with the zone on, then read again.',
  }),
  'review.velocity-over-limit': (params, print) => ({
    what: `Water runs at ${print.velocity(figure(params, 'velocityMs'))} in ${text(params, 'pipe')} (${print.flow(figure(params, 'flowM3s'))}); the limit is ${print.velocity(figure(params, 'limitMs'))}.`,
    why: 'Fast water hammers when the valve shuts and loses pressure on the way.',
    next: 'Take a thicker pipe, or split the zone.',
  }),
  'review.source-short': (params, print) => ({
    what: `Zone ${text(params, 'zone')} needs ${print.pressure(figure(params, 'requiredHeadM'))} at the connection; at its flow the source gives ${print.pressure(figure(params, 'availableHeadM'))}.`,
    why: 'The last emitter does not reach its pressure at the lowest pressure of the year.',
    next: 'Split the zone, choose emitters of lower flow, or ask for a booster pump.',
  }),
  'review.flow-over-usable': (params, print) => ({
    what: `Zone ${text(params, 'zone')} takes ${print.flow(figure(params, 'flowM3s'))}; the source may be counted on for ${print.flow(figure(params, 'limitM3s'))}.`,
    why: 'The rest of the measured flow is kept for the bad days and for the house.',
    next: 'Split the zone.',
  }),
  'review.short-when-filter-loaded': (params, print) => ({
    what: `Zone ${text(params, 'zone')} has ${print.pressure(figure(params, 'marginHeadM'))} to spare; a loaded filter takes ${print.pressure(figure(params, 'extraHeadM'))} more than a clean one.`,
    why: 'The far end starves before anyone thinks of cleaning the filter.',
    next: 'Have the filter cleaned often, or win pressure on the way.',
  }),
  'review.static-too-high': (params, print) => ({
    what: `Static pressure reaches ${print.pressure(figure(params, 'headM'))}; above ${print.pressure(figure(params, 'limitHeadM'))} a master pressure regulator is required.`,
    why: 'Valves, glued joints and backflow preventers can burst. This is a safety matter.',
    next: 'Have a master regulator fitted at the connection by a licensed person, then enter the pressure behind it.',
  }),
  'review.pipe-over-rating': (params, print) => ({
    what: `${text(params, 'part')} would stand under ${print.pressure(figure(params, 'headM'))} at rest; it is rated for ${print.pressure(figure(params, 'limitHeadM'))}.`,
    why: 'The pipe can burst.',
    next: 'Take pipe of a higher rating, or regulate the pressure at the connection.',
  }),
  'review.pipe-over-rating-regulator-stuck': (params, print) => ({
    what: `${text(params, 'part')} would stand under ${print.pressure(figure(params, 'headM'))} should the regulator stick open; it is rated for ${print.pressure(figure(params, 'limitHeadM'))}.`,
    why: 'The header holds while the regulator holds, and can burst when it does not.',
    next: 'Take pipe of a higher rating for this header, or regulate the pressure at the connection.',
  }),
  'review.part-over-rating': (params, print) => ({
    what: `${text(params, 'part')} would stand under ${print.pressure(figure(params, 'headM'))} at rest; it is made for ${print.pressure(figure(params, 'limitHeadM'))}.`,
    why: 'Its body can crack, and what it protects is then without it.',
    next: 'Have a master regulator fitted at the connection by a licensed person, or take a part made for more.',
  }),
  'review.tubing-over-at-highest': (params, print) => ({
    what: `In zone ${text(params, 'zone')} the lowest emitters stand under ${print.pressure(figure(params, 'headM'))} when the source is at its highest; they are made for ${print.pressure(figure(params, 'limitHeadM'))}.`,
    why: "At the year's lowest pressure the regulator stands open and the tubing is spared; at the highest it is not.",
    next: 'Take an assembly of a lower setting, or put the lowest beds on a valve of their own.',
  }),
  'review.flush-too-slow': (params, print) => ({
    what: `With the flush valve of ${text(params, 'bed')} (${text(params, 'run')}) open, the slower leg runs at ${print.velocity(figure(params, 'velocityMs'))}; ${print.velocity(figure(params, 'limitMs'))} is wanted.`,
    why: 'Dirt is not carried out and settles in the emitters.',
    next: 'Shorten the run, or flush it with the other beds of the zone shut off.',
  }),
  'review.flush-out-of-reach': (params, print) => ({
    what: `The flush valve of ${text(params, 'bed')} stands ${print.length(figure(params, 'distanceM'))} inside its edge.`,
    why: `A valve further in than ${print.length(figure(params, 'limitM'))} is trodden to, or forgotten.`,
    next: 'Box and mark it, or move it along the tubing to where the edge is near.',
  }),
  'review.uniformity-low': (params, print) => ({
    what: `Zone ${text(params, 'zone')}: emission uniformity ${print.percent(figure(params, 'uniformityRatio'))}; ${print.percent(figure(params, 'wantedRatio'))} is wanted.`,
    why: 'To give the driest plants enough, the others are drowned.',
    next: 'Take compensating emitters, shorten the runs, or split the zone.',
  }),
  'review.run-too-long': (params, print) => ({
    what: `${text(params, 'bed')}: ${text(params, 'run')} is ${print.tubing(figure(params, 'lengthM'))} long; with ${print.percent(figure(params, 'wantedRatio'))} uniformity this tubing ${text(params, 'fedAt') === 'one end' ? 'fed at one end ' : ''}runs ${print.tubing(figure(params, 'limitM'))} at the most.`,
    why: 'The emitters furthest from the tee get less water than the first.',
    next: 'Let the bed be cut into more loops, feed the run at both ends, or choose tubing of lower flow or wider spacing.',
  }),
  'review.elevation-spread': (params, print) => ({
    what: `Zone ${text(params, 'zone')} spans ${print.length(figure(params, 'spreadM'))} of height; its setting leaves ${print.length(figure(params, 'limitM'))} for that.`,
    why: 'Height alone takes the pressure the upper emitters need.',
    next: 'Put the upper and the lower beds on valves of their own.',
  }),
  'review.elevation-spread-plain': (params, print) => ({
    what: `Zone ${text(params, 'zone')} spans ${print.length(figure(params, 'spreadM'))} of height with emitters that do not compensate; ${print.length(figure(params, 'limitM'))} is the limit.`,
    why: 'The lower emitters give markedly more than the upper ones.',
    next: 'Take compensating tubing, or split the zone by height.',
  }),
};

/** Findings about protection, ground, grouping and what is not known. */
const siteFindings: Sentences = {
  'review.backflow-not-chosen': (params) => ({
    what: `No backflow preventer is chosen; the design counts on this one: ${text(params, 'backflow')}.`,
    why: 'Water standing in the tubing must never be drawn back into drinking water. Local code decides which device is allowed and who may install and test it.',
    next: 'Ask the water purveyor, then choose the device at the connection.',
  }),
  'review.backflow-local-code': (params) => ({
    what: `Backflow protection: ${text(params, 'backflow')}.`,
    why: 'Water standing in the tubing must never be drawn back into drinking water.',
    next: 'Local code decides whether this device is allowed here and who may install and test it.',
  }),
  'review.backflow-height': (params, print) => ({
    what: `The ${text(params, 'backflow')} must stand at least ${print.small(figure(params, 'heightM'))} above the ground at the connection.`,
    why: `It works only ${print.small(figure(params, 'aboveM'))} or more above the highest emitter. Local code may ask more.`,
    next: 'Write the height on the detail and keep it.',
  }),
  'review.backflow-below-highest-emitter': (params, print) => ({
    what: `The ${text(params, 'backflow')} stands below the highest emitter: it would have to stand ${print.length(figure(params, 'heightM'))} above the ground at the connection.`,
    why: 'Below it, a vacuum breaker protects nobody: bed water can reach drinking water.',
    next: 'Move the device up, or take a type that may stand lower. Local code decides.',
  }),
  'review.recycled-marking': () => ({
    what: 'The source is recycled water: pipe, boxes, valves and outlets need its marking.',
    why: 'Nobody may drink it by mistake.',
    next: "Order purple pipe, tags and signs, and follow the purveyor's rules.",
  }),
  'review.recycled-cross-connection': () => ({
    what: 'The source is recycled water: there must be no connection of any kind to drinking water.',
    why: 'A cross-connection makes people ill.',
    next: 'Have a cross-connection test made where the purveyor asks for it.',
  }),
  'review.high-and-low-on-one-valve': (params) => ({
    what: `Zone ${text(params, 'zone')} has beds of high and of low need on one valve: ${text(params, 'beds')}.`,
    why: 'One half drowns or the other dries, and checkers send the plan back.',
    next: 'Give them valves of their own.',
  }),
  'review.mixed-zone': (params) => ({
    what: `Zone ${text(params, 'zone')} mixes beds that differ in need, sun or soil: ${text(params, 'beds')}.`,
    why: 'One schedule cannot suit them all.',
    next: 'Give each kind a valve of its own, or accept it and water for the thirstiest.',
  }),
  'review.bed-without-zone': (params) => ({
    what: `${text(params, 'bed')} is on no valve.`,
    why: 'It will get no water.',
    next: 'Mend what keeps its tubing from being laid, or give it a zone.',
  }),
  'review.route-not-verified': (params) => ({
    what: `The tubing of ${text(params, 'bed')} failed its check: ${text(params, 'failures')}.`,
    why: 'It cannot be laid as drawn.',
    next: 'Choose another layout, or move the rows by hand.',
  }),
  'review.locate-before-digging': (params) => ({
    what: `Have buried lines located before anything is dug${text(params, 'number') === '' ? '' : `: call ${text(params, 'number')}`}.`,
    why: 'Gas and power lines kill. Only lines someone knew of are on this plan, and private lines are not marked by the call service.',
    next: 'Call two or three working days ahead; dig by hand near the marks.',
  }),
  'review.utility-crossed': (params) => ({
    what: `${params.zoneNumber === undefined ? 'The main' : `The header of zone ${figure(params, 'zoneNumber')}`} crosses the buried line ${text(params, 'utility')}.`,
    why: 'A cut line can hurt the crew.',
    next: 'Have it located and dig by hand there, or lead the trench another way.',
  }),
  'review.foundation-offset': (params, print) => ({
    what: `${text(params, 'bed')}: tubing ${print.small(figure(params, 'offsetM'))} from a foundation; ${print.small(figure(params, 'limitM'))} is usual.`,
    why: 'Water at a foundation does harm that shows late. The geotechnical report outranks this figure.',
    next: 'Set the offset the report gives, or the usual one.',
  }),
  'review.foundation-offset-clay': (params, print) => ({
    what: `${text(params, 'bed')}: tubing ${print.small(figure(params, 'offsetM'))} from a foundation on clay; ${print.small(figure(params, 'limitM'))} is usual.`,
    why: 'Clay swells and shrinks with water and moves the foundation. The geotechnical report outranks this figure.',
    next: 'Set the offset the report gives, or the usual one.',
  }),
  'review.steep-and-fast': (params, print) => ({
    what: `${text(params, 'bed')} slopes ${print.percent(figure(params, 'slopeRatio'))} and gets ${print.rate(figure(params, 'rateMs'))}; on such a slope ${print.rate(figure(params, 'limitMs'))} is the limit.`,
    why: 'Water runs off before it sinks in.',
    next: 'Take emitters of lower flow or wider rows, or show that nothing runs off.',
  }),
  'review.readings-mean': (params) => ({
    what: `Zone ${text(params, 'zone')} reads as if: ${causesOf(params)}.`,
    why: 'Every single fault was solved beforehand; these give the pressures that were read, the best fit first.',
    next: 'Look for them in this order, mend, and read again. A third reading tells more apart.',
  }),
  'review.root-ball-dry': (params, print) => ({
    what: `The root ball of ${text(params, 'plant')} in ${text(params, 'bed')} may stay dry: wet soil can end ${print.small(figure(params, 'leastM'))} to ${print.small(figure(params, 'mostM'))} short of it.`,
    why: 'A new plant drinks from its root ball alone. Where the emitters come to lie along a row is known only when it is laid; this is the worst of it.',
    next: 'Give the plant a spur of its own, shift the row toward it, or plant it nearer a row.',
  }),
  'review.root-ball-may-stay-dry': (params, print) => ({
    what: `One of two wetting models leaves the root ball of ${text(params, 'plant')} in ${text(params, 'bed')} dry by up to ${print.small(figure(params, 'mostM'))}.`,
    why: 'The two models differ; this is where the emitters lie worst for the plant.',
    next: 'Check it when the rows are wet, or give the plant a spur.',
  }),
  'review.level-ground-assumed': () => ({
    what: 'No heights are given: the site is taken as level.',
    why: 'Every 10 ft up or down a bed is 4.3 psi.',
    next: 'Enter spot heights, or the height of each bed, where the site is not level.',
  }),
  'review.meter-not-known': () => ({
    what: 'Meter size and flow are not known.',
    why: 'Nothing holds the zones to what meter and service line allow.',
    next: 'Read the size off the meter, or make a flow test.',
  }),
  'review.no-controller': (params) => ({
    what:
      figure(params, 'zoneCount') === 1
        ? 'No controller is drawn; 1 valve needs a station and a wire.'
        : `No controller is drawn; ${figure(params, 'zoneCount')} valves need a station and a wire each.`,
    why: 'Wire and controller are not counted.',
    next: 'Place the controller.',
  }),
  'review.too-few-stations': (params) => ({
    what: `${figure(params, 'zoneCount')} zones, but the controller has ${figure(params, 'stationCount')} stations.`,
    why: 'A valve without a station never opens.',
    next: 'Take a controller with more stations.',
  }),
};

/** What a person reads of the review. */
/** " on 14 May by A.B.", as far as it was written down. */
const readBy = (params: Params): string => {
  const [on, by] = [text(params, 'on'), text(params, 'by')];
  return `${on === '' ? '' : ` on ${on}`}${by === '' ? '' : ` by ${by}`}`;
};

export const reviewSentences: Sentences = { ...hydraulicFindings, ...siteFindings, ...mends };
