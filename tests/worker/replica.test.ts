import { describe, expect, it } from 'vitest';
import { applyCommand, emptyPlan, type Plan, plainBed } from '../../src/core/plan';
import type { Reply } from '../../src/worker';
import { createReplica } from '../../src/worker/replica';

const rectangle = (id: string, x: number) => {
  const points = [
    { x, y: 0 },
    { x: x + 3, y: 0 },
    { x: x + 3, y: 4 },
    { x, y: 4 },
  ];
  return plainBed(
    id,
    [{ points, edges: points.map(() => ({ class: null, offsetM: null, sagittaM: 0 })) }],
    id,
  );
};

const twoBeds = (): Plan => ({
  ...emptyPlan('garden'),
  beds: {
    left: { ...rectangle('left', 0), zoneKey: 'one' },
    right: { ...rectangle('right', 10), zoneKey: 'two' },
  },
});

function moved(plan: Plan, x: number) {
  const applied = applyCommand(plan, {
    name: 'move-corner',
    params: { id: 'right', ringIndex: 0, pointIndex: 1, to: { x, y: 0 } },
  });
  if (!applied.ok) throw new Error('the corner can be moved');
  return applied.value;
}

/** A replica with everything it answers, and a way to let it finish. */
function bench() {
  const replies: Reply[] = [];
  const replica = createReplica(
    (reply) => replies.push(reply),
    () => 0,
  );
  const finish = (): void => {
    while (replica.work());
  };
  return { replies, replica, finish };
}

describe('the worker beside the desk', () => {
  it('an edit of one bed sends that bed again and only names the other', () => {
    const { replies, replica, finish } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    finish();
    const { forward } = moved(plan, 14);
    replica.receive({ kind: 'edit', request: 2, patches: forward });
    finish();
    const sent = replies
      .filter((reply) => reply.request === 2)
      .map((reply) => (reply.kind === 'designed' ? reply.parcel.beds : []));
    expect(sent.length).toBe(2);
    for (const beds of sent) {
      expect(beds[0]).toEqual({ kind: 'same', id: 'left' });
      expect(beds[1]?.kind).toBe('new');
    }
  });

  it('of many orders only the newest is designed', () => {
    const { replies, replica, finish } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    for (let request = 2; request <= 6; request++) {
      replica.receive({ kind: 'try', request, patches: moved(plan, 13 + request / 10).forward });
    }
    finish();
    expect(new Set(replies.map((reply) => reply.request))).toEqual(new Set([6]));
  });

  it('a gesture is designed on top of the plan and leaves it as it was', () => {
    const { replies, replica, finish } = bench();
    const plan = twoBeds();
    replica.receive({ kind: 'open', request: 1, plan });
    finish();
    replica.receive({ kind: 'try', request: 2, patches: moved(plan, 16).forward });
    finish();
    replica.receive({ kind: 'edit', request: 3, patches: [] });
    finish();
    const areas = replies.map((reply) =>
      reply.kind === 'designed'
        ? reply.parcel.beds.map((sent) => (sent.kind === 'new' ? sent.item.layout.areaM2 : null))
        : [],
    );
    // 3 x 4 m, and with the corner moved out by 3 m: 3 x 4 + 3 x 4 / 2, by hand
    expect(areas[0]?.[1]).toBeCloseTo(12, 6);
    const tried = replies.findIndex((reply) => reply.request === 2);
    expect(areas[tried]?.[1]).toBeCloseTo(18, 6);
    const back = replies.findIndex((reply) => reply.request === 3);
    expect(areas[back]?.[1]).toBeCloseTo(12, 6);
  });
});
