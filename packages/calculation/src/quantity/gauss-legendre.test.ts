import { describe, expect, it } from 'vitest';
import { equalPanels, gaussLegendre, panelRule } from './gauss-legendre.ts';

describe('the rule of Gauss and Legendre', () => {
  it('has the printed nodes and weights of five nodes', () => {
    // Abramowitz and Stegun (1964), table 25.4, n = 5.
    const { nodes, weights } = gaussLegendre(5, -1, 1);
    expect(nodes[4]).toBeCloseTo(0.906179845938664, 15);
    expect(nodes[2]).toBeCloseTo(0, 15);
    expect(weights[4]).toBeCloseTo(0.236926885056189, 15);
    expect(weights[2]).toBeCloseTo(0.568888888888889, 15);
  });

  it('integrates a polynomial of degree 2n − 1 exactly', () => {
    const { nodes, weights } = gaussLegendre(6, 0, 2);
    const integral = nodes.reduce((sum, x, index) => sum + (weights[index] as number) * x ** 11, 0);
    // ∫ x¹¹ from 0 to 2 is 2¹²/12.
    expect(integral).toBeCloseTo(4096 / 12, 10);
  });

  it('of ten nodes agrees with the printed rule of one panel', () => {
    const { nodes, weights } = gaussLegendre(10, -1, 1);
    const panel = panelRule([-1, 1]);
    const order = [...panel.nodes.keys()].sort(
      (one, other) => (panel.nodes[one] as number) - (panel.nodes[other] as number),
    );
    order.forEach((at, index) => {
      expect(nodes[index]).toBeCloseTo(panel.nodes[at] as number, 14);
      expect(weights[index]).toBeCloseTo(panel.weights[at] as number, 13);
    });
  });

  it('in panels finds the area under a peak far narrower than the interval', () => {
    // ∫ φ from −40 to 40 is 1 to the last digit.
    const { nodes, weights } = panelRule(equalPanels(-40, 40, 80));
    const area = nodes.reduce(
      (sum, x, index) =>
        sum + ((weights[index] as number) * Math.exp((-x * x) / 2)) / Math.sqrt(2 * Math.PI),
      0,
    );
    expect(area).toBeCloseTo(1, 13);
  });
});
