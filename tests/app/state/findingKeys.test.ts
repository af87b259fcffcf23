import { describe, expect, it } from 'vitest';
import { findingKeys, sameFinding } from '../../../src/app/state/findingKeys';
import type { Problem } from '../../../src/core/units';

const finding = (code: string, id: string, x = 0): Problem => ({
  code,
  severity: 'warn',
  where: { id, x, y: 0 },
  params: {},
});
const through = finding('supply.drawn-pipe-through', 'header-1', 3);
const dry = finding('layout.coverage-short', 'bed-1');

describe('a finding that stays while others come and go', () => {
  it('is the same one wherever it comes to stand', () => {
    expect(sameFinding(0, [through, dry], [dry, through])).toBe(1);
    expect(sameFinding(1, [dry, through], [through])).toBe(0);
  });

  it('is the same one where its spot has moved a little', () => {
    expect(sameFinding(0, [through], [dry, finding(through.code, 'header-1', 3.2)])).toBe(1);
  });

  it('is none once it is mended, and none where none was open', () => {
    expect(sameFinding(0, [through, dry], [dry])).toBeNull();
    expect(sameFinding(null, [through], [through])).toBeNull();
    expect(sameFinding(5, [through], [through])).toBeNull();
  });

  it('is told from others alike by their order', () => {
    const keys = findingKeys([dry, finding(dry.code, 'bed-1', 2), finding(dry.code, 'bed-2')]);
    expect(new Set(keys).size).toBe(3);
  });
});
