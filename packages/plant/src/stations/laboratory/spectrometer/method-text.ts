import { digitsOf } from '../../../tables/number-form.ts';
import { elementNamed } from './element-words.ts';
import type { ResultMethod } from './result-bodies.ts';

/** A text that says something else than it should: which part, and what would be accepted. */
interface TextProblem {
  readonly problem: string;
}

interface Content {
  readonly element: string;
  readonly content: number;
}

/** A number as people type it, with either decimal mark. */
function numberIn(text: string): number | undefined {
  const decimalMark = text.includes(',') ? 'comma' : 'point';
  const digits = digitsOf(text, { decimalMark, groupMark: 'none' });
  return digits === undefined ? undefined : Number(digits);
}

/** "Cu 0.5" as an element with its content. */
function contentIn(text: string): Content | TextProblem {
  const [, name = '', number = ''] = /^(\S+)\s+(\S+)$/.exec(text.trim()) ?? [];
  const element = elementNamed(name);
  const content = numberIn(number);
  if (element !== undefined && content !== undefined) return { element, content };
  return { problem: `“${text.trim()}” is no element with its content, as “Cu 0.5”` };
}

const partsOf = (text: string, separator: RegExp): readonly string[] =>
  text
    .split(separator)
    .map((part) => part.trim())
    .filter((part) => part !== '');

/** Detection limits as they are typed: an element with its limit, parted by semicolons or lines. */
export function limitsIn(text: string): { readonly limits: ResultMethod['limits'] } | TextProblem {
  const limits = [];
  for (const part of partsOf(text, /[;\n]/)) {
    const one = contentIn(part);
    if ('problem' in one) return one;
    limits.push({ element: one.element, detectionLimit: one.content });
  }
  return { limits };
}

/** Standards as they are typed: one in a line, its label, a colon, its elements. */
export function standardsIn(
  text: string,
): { readonly standards: ResultMethod['standards'] } | TextProblem {
  const standards = [];
  for (const line of partsOf(text, /\n/)) {
    const [, label = '', rest = ''] = /^([^:]+):(.+)$/.exec(line) ?? [];
    if (label.trim() === '')
      return { problem: `“${line}” is no standard, as “Std 1: Cu 10; Fe 5”` };
    const contents: Content[] = [];
    for (const part of partsOf(rest, /;/)) {
      const one = contentIn(part);
      if ('problem' in one) return one;
      contents.push(one);
    }
    standards.push({ label: label.trim(), contents });
  }
  return { standards };
}

export const textOfLimits = ({ limits }: ResultMethod): string =>
  limits.map(({ element, detectionLimit }) => `${element} ${detectionLimit}`).join('; ');

export const textOfStandards = ({ standards }: ResultMethod): string =>
  standards
    .map(
      ({ label, contents }) =>
        `${label}: ${contents.map(({ element, content }) => `${element} ${content}`).join('; ')}`,
    )
    .join('\n');
