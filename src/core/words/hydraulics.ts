import { figure, type Sentence, type Sentences, text } from './types';

/** A fault of the network itself: every one stops its zone, because no pressure can be trusted. */
const fault =
  (what: (id: string) => string, next: string) =>
  (params: Parameters<Sentences[string]>[0]): Sentence => ({
    what: what(text(params, 'id')),
    why: 'Pressures cannot be computed for this zone until it is mended.',
    next,
  });

/** A fault in the field that would give the pressure that was read. */
const cause =
  (what: (id: string) => string, next: string) =>
  (params: Parameters<Sentences[string]>[0]): Sentence => ({
    what: what(text(params, 'id')),
    why: 'Solving the zone with this fault comes near the pressure that was read.',
    next,
  });

const checkFigures = 'Check the figures of this part and of what feeds it.';

/** Sentences of the hydraulic network and of its field diagnosis. */
export const hydraulicsSentences: Sentences = {
  'hydraulics.not-finite': fault((id) => `${id} has a figure that is not a number.`, checkFigures),
  'hydraulics.double-id': fault((id) => `${id} stands twice in the network.`, 'Give each part its own name.'),
  'hydraulics.unknown-end': fault(
    (id) => `${id} leads to a point that does not exist.`,
    'Join it to a point of the network.',
  ),
  'hydraulics.same-ends': fault(
    (id) => `${id} begins and ends at the same point.`,
    'Give it two different ends, or leave it out.',
  ),
  'hydraulics.zero-length': fault(
    (id) => `${id} has no length.`,
    'Give it its real length, or leave it out.',
  ),
  'hydraulics.no-bore': fault((id) => `${id} has no inside diameter.`, 'Choose a pipe size.'),
  'hydraulics.bad-friction': fault((id) => `${id} has a roughness that no pipe can have.`, checkFigures),
  'hydraulics.bad-loss': fault((id) => `${id} has a negative fitting loss.`, checkFigures),
  'hydraulics.bad-emitter': fault(
    (id) => `The emitter at ${id} has a flow curve that cannot be used.`,
    'Check its flow, its pressures and its exponent in the parts list.',
  ),
  'hydraulics.bad-curve': fault(
    (id) =>
      `The pressure curve of ${id} cannot be used: it must rise steadily with flow for a loss, fall for a supply.`,
    'Check the points of the curve.',
  ),
  'hydraulics.bad-regulator': fault(
    (id) => `The regulator ${id} has figures that cannot be used.`,
    checkFigures,
  ),
  'hydraulics.bad-viscosity': fault(
    () => 'The water temperature gives no usable viscosity.',
    'Set a water temperature between 0 and 50 C.',
  ),
  'hydraulics.no-source': fault(() => 'Nothing feeds this zone.', 'Place the point of connection.'),
  'hydraulics.disconnected': fault(
    (id) => `${id} is not joined to the source.`,
    'Join it with pipe or tubing, or take it out.',
  ),
  'hydraulics.demand-cut-off': fault(
    (id) => `${id} must draw water, but everything that leads to it is shut.`,
    'Open a valve on the way, or take the demand out.',
  ),
  'hydraulics.no-outflow': () => ({
    what: 'Nothing in this zone lets water out.',
    why: 'With no flow every pressure is the resting pressure, and tells nothing about watering.',
    next: 'Give the zone a bed with emitters.',
  }),
  'hydraulics.unsettled': (params) => ({
    what: `The pressures did not settle; the worst balance is at ${text(params, 'id')}.`,
    why: 'A figure that did not settle may be wrong, so none is printed as if it were right.',
    next: 'Look for an extreme figure near that point: a very small bore, a very long run, a curve with a step.',
  }),
  'hydraulics.cause-loaded-filter': cause(
    (id) => `The filter ${id} is loaded.`,
    'Shut the water off, take the screen out and rinse it, then read again.',
  ),
  'hydraulics.cause-valve-half-shut': cause(
    (id) => `The valve ${id} is not fully open.`,
    'Open it fully: handle along the pipe, flow control up; then read again.',
  ),
  'hydraulics.cause-cut-run': cause(
    (id) => `A run is cut or has come off at ${id}.`,
    'Walk the run while it is on, look for standing water, splice it, then read again.',
  ),
  'hydraulics.cause-wrong-regulator': (params, print) => ({
    what: `The regulator ${text(params, 'id')} may be one of ${print.pressure(figure(params, 'amount'))}.`,
    why: 'Solving the zone with that setting comes near the pressure that was read.',
    next: 'Read the setting printed on the regulator, and exchange it if it is not the one on the sheet.',
  }),
  'hydraulics.cause-low-supply': cause(
    () => 'The supply stands lower than the plan assumes.',
    'Measure it again at the connection, with nothing else running.',
  ),
  'hydraulics.cause-high-supply': cause(
    () => 'The supply stands higher than the plan assumes.',
    'Measure it again at the connection; above 80 psi (552 kPa) fit a regulator there first.',
  ),
};
