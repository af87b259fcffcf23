import {
  centroid,
  distanceM,
  inflateRings,
  intersectRings,
  pointInRing,
  type Region,
  type Ring,
  ringAreaM2,
  signedRingAreaM2,
  simplifyRing,
  subtractRings,
  uniteRings,
} from '../../geometry';

/** A drawn arc may lose this much of its height when points are thinned, metres. */
const THIN_M = 4e-4;
/** Outlines come to the offsets with their points thinned to this, metres: half of what counts as straight. */
const THIN_BEFORE_M = 5e-4;
/** What is left of a bend once it is shrunk away is a heap of points, each of which the next offset would round, metres. */
const THIN_CORE_M = 2e-4;
/** Points nearer to each other than this are one, metres: no arc of tubing has chords as short. */
const STEP_M = 1e-3;
/** Below this, sharpening corners between shrinking and rounding changes nothing that shows, metres. */
const SHARPEN_FROM_M = 0.015;

/** An outline fit for tubing, and pieces that had to be let go because two runs could not reach them. */
export interface Shaped {
  readonly ring: Ring;
  readonly lost: readonly Ring[];
}

/**
 * The outline trimmed and bent so that a crew can lay it: nothing of it thinner than `minSeparationM`, no fjord thinner
 * than twice the bend where the ground allows filling it, every corner bent to at least `bendRadiusM`, all of it on the
 * ground. Null where that tears the loop or closes ground in.
 */
export function shapeOutline(
  outline: Ring,
  ground: Region,
  bendRadiusM: number,
  minSeparationM: number,
): Shaped | null {
  const halfM = Math.max(0.49 * minSeparationM, bendRadiusM);
  const thin = simplifyRing(outline, THIN_BEFORE_M);
  const core = inflateRings([thin], -halfM, 'miter').map((ring) => simplifyRing(ring, THIN_CORE_M));
  const sharpenM = halfM - bendRadiusM;
  const inner = sharpenM > SHARPEN_FROM_M ? inflateRings(core, sharpenM, 'miter') : core;
  const grownM = sharpenM > SHARPEN_FROM_M ? bendRadiusM : halfM;
  return onGround(
    inflateRings(inflateRings(inner, grownM + bendRadiusM), -bendRadiusM),
    thin,
    ground,
    minSeparationM,
  );
}

/** Of its bend radius so much is asked again of what was bent before: bends are chords, a hair tighter than their circle. */
const BENT_RATIO = 0.985;

/**
 * An outline that was bent before and moved since, bent again where it was moved: cut back to the ground first, so that what
 * was moved beyond it gets a bend there and no sharp corner. Null as for an outline bent for the first time, whose sharpened
 * corners would here grow beyond the bends they have.
 */
export function bendAgain(
  moved: Ring,
  ground: Region,
  bendRadiusM: number,
  minSeparationM: number,
): Shaped | null {
  const thin = simplifyRing(moved, THIN_BEFORE_M);
  const radiusM = BENT_RATIO * bendRadiusM;
  const core = inflateRings(keepOnGround([thin], thin, ground), -radiusM, 'miter').map((ring) =>
    simplifyRing(ring, THIN_CORE_M),
  );
  return onGround(inflateRings(inflateRings(core, 2 * radiusM), -radiusM), thin, ground, minSeparationM);
}

/** What was bent, held to the ground: its largest piece, and those that tore off. Null where nothing is left or ground is closed in. */
function onGround(bent: Region, outline: Ring, ground: Region, minSeparationM: number): Shaped | null {
  const region = keepOnGround(bent, outline, ground);
  const pieces = region
    .filter((ring) => signedRingAreaM2(ring) > 0.3 * minSeparationM ** 2)
    .sort((one, other) => ringAreaM2(other) - ringAreaM2(one));
  const closedIn = region.some((ring) => signedRingAreaM2(ring) < -0.05 * minSeparationM ** 2);
  if (!pieces[0] || closedIn) return null;
  return { ring: withoutSteps(simplifyRing(pieces[0], THIN_M)), lost: pieces.slice(1) };
}

/** A ring without points that hardly lie apart: what offsets leave where they begin, a step across a straight row. */
const withoutSteps = (ring: Ring): Ring =>
  ring.filter((point, index) => distanceM(point, ring.at(index - 1)!) > STEP_M);

/**
 * The region held to the ground: inside its outer edge; holes that the outline goes round on the outside are part of it
 * (the loop encircles them), all others are not.
 */
function keepOnGround(region: Region, outline: Ring, ground: Region): Region {
  const outer = ground.filter((ring) => signedRingAreaM2(ring) > 0);
  const encircled: Ring[] = [];
  const avoided: Ring[] = [];
  for (const ring of ground) {
    if (signedRingAreaM2(ring) > 0) continue;
    const hole = [...ring].reverse();
    if (pointInRing(centroid({ outer: hole, holes: [] }), outline)) encircled.push(hole);
    else avoided.push(hole);
  }
  const inside = intersectRings(region, outer);
  const filled = encircled.length > 0 ? uniteRings([...inside, ...encircled]) : inside;
  return avoided.length > 0 ? subtractRings(filled, avoided) : filled;
}

/** How tightly tubing bends, and how near two runs may lie, metres. */
export interface BendWishes {
  readonly bendRadiusM: number;
  readonly minSeparationM: number;
}

/** Outlines bent together. */
export interface ShapedLoops {
  readonly rings: readonly Ring[];
  /** Pieces that tore off at necks too thin for two runs. */
  readonly lost: readonly Ring[];
  readonly bendRadiusM: number;
}

/**
 * Bends the corners of all outlines; a little tighter than the tubing's own radius only where the loop would tear.
 *
 * @param bent  outlines that were bent to the tubing's own radius already, with what came of it
 */
export function shapeAll(
  outlines: readonly Ring[],
  ground: Region,
  wishes: BendWishes,
  bent: ReadonlyMap<Ring, Shaped | null> = new Map(),
): ShapedLoops {
  let bendRadiusM = wishes.bendRadiusM;
  const lost: Ring[] = [];
  const rings = outlines.flatMap((outline) => {
    for (const share of [1, 0.8, 0.6]) {
      const known = share === 1 ? bent.get(outline) : undefined;
      const shaped =
        known === undefined
          ? shapeOutline(outline, ground, share * wishes.bendRadiusM, wishes.minSeparationM)
          : known;
      if (!shaped) continue;
      bendRadiusM = Math.min(bendRadiusM, share * wishes.bendRadiusM);
      lost.push(...shaped.lost);
      return [shaped.ring];
    }
    return [];
  });
  return { rings, lost, bendRadiusM };
}
