import { expect, it } from 'vitest';
import { labelsOf } from '../../../src/app/parts/PressurePlot';

it('zones that run at about the same flow share one label on the plot', () => {
  // 5 px apart is less than a digit and a half of 12 px lettering
  const points = [
    { name: '1', x: 80, y: 60 },
    { name: '2', x: 85, y: 62 },
    { name: '3', x: 40, y: 80 },
  ];
  expect(labelsOf(points)).toEqual(['1, 2', '', '3']);
});

it('zones one above the other keep labels of their own', () => {
  expect(
    labelsOf([
      { name: '1', x: 80, y: 60 },
      { name: '2', x: 82, y: 90 },
    ]),
  ).toEqual(['1', '2']);
});
