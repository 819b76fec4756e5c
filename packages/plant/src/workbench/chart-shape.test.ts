import { describe, expect, it } from 'vitest';
import { barWidth, chartScales, frame, spreadLabels, xTicks } from './chart-shape.ts';

const series = (kind: 'line' | 'bars', x: number[], y: number[]) => ({ label: 'a', kind, x, y });
const titles = { title: 't', xTitle: 'x', yTitle: 'y' };

describe('chartScales', () => {
  it('stands bars on zero and leaves half a bar at each end', () => {
    const { x, y } = chartScales({ ...titles, series: [series('bars', [1, 2, 3], [4, 9, 5])] });
    expect(x.domain()).toEqual([0.5, 3.5]);
    expect(y.domain()[0]).toBe(0);
  });

  it('does not drag a line far from zero down to it, and keeps marks in sight', () => {
    const { x, y } = chartScales({
      ...titles,
      series: [series('line', [1, 2], [916.5, 916.9])],
      marks: [{ x: 5, label: 'limit' }],
    });
    expect(x.domain()).toEqual([1, 5]);
    expect(y.domain()[0]).toBeGreaterThan(916);
  });

  it('draws a single point and an empty series without breaking', () => {
    expect(chartScales({ ...titles, series: [series('line', [3], [0])] }).x(3)).toBe(
      (frame.left + frame.width - frame.right) / 2,
    );
    expect(chartScales({ ...titles, series: [series('line', [], [])] }).y.domain()).toEqual([0, 1]);
  });
});

describe('labels and bars', () => {
  it('numbers few counted bars one by one, and others by round numbers', () => {
    const counted = [series('bars', [19, 20, 21], [0.1, 0.8, 0.1])];
    expect(xTicks(counted, chartScales({ ...titles, series: counted }).x)).toEqual([19, 20, 21]);
    const masses = [series('bars', [7.45, 7.5], [3, 4])];
    expect(xTicks(masses, chartScales({ ...titles, series: masses }).x)).not.toEqual([7.45, 7.5]);
  });

  it('moves labels apart and keeps their order', () => {
    expect(spreadLabels([50, 48, 90], 16)).toEqual([64, 48, 90]);
  });

  it('takes the least distance between neighbours as the width of a bar', () => {
    expect(barWidth([series('bars', [1, 1.5, 3], [1, 1, 1])])).toBe(0.5);
  });
});
