import { type FaultKind, families, faultKinds } from './fault-kinds.ts';
import type { PlantSize } from './ground.ts';
import { controls, type Planted } from './ledger.ts';
import { movesPieces, type Proof } from './prove.ts';
import { provable, standardsOf } from './standards.ts';
import type { Timing } from './timings.ts';

/** What became of a fault, in a word. */
export function fateOf(fault: Planted): 'found' | 'signed' | 'merged' | 'hidden' {
  if (fault.control !== null) return 'found';
  if (fault.reason !== null) return 'signed';
  return fault.state === 'merged' ? 'merged' : 'hidden';
}

const of = (faults: readonly Planted[], fate: ReturnType<typeof fateOf>): number =>
  faults.filter((fault) => fateOf(fault) === fate).length;

function byControl(faults: readonly Planted[]): string {
  return controls
    .flatMap((control) => {
      const count = faults.filter((fault) => fault.control === control).length;
      return count > 0 ? [`${control} ${count}`] : [];
    })
    .join(', ');
}

const row = (cells: readonly (string | number)[], widths: readonly number[]): string =>
  cells
    .map((cell, at) => {
      const width = widths[at] ?? 0;
      return typeof cell === 'number' ? String(cell).padStart(width) : cell.padEnd(width);
    })
    .join('  ')
    .trimEnd();

const fates = ['found', 'signed', 'merged', 'hidden'] as const;

const widths = [34, 7, 6, 6, 6, 6, 0];

function table(planted: readonly Planted[]): readonly string[] {
  const lines = [row(['fault', 'planted', ...fates, 'by which control'], widths)];
  for (const family of families) {
    const kinds = (Object.keys(faultKinds) as FaultKind[]).filter(
      (kind) => faultKinds[kind].family === family,
    );
    lines.push(family);
    for (const kind of kinds) {
      const faults = planted.filter((fault) => fault.kind === kind);
      if (faults.length === 0) continue;
      const counts = fates.map((fate) => of(faults, fate));
      lines.push(row([`  ${kind}`, faults.length, ...counts, byControl(faults)], widths));
    }
  }
  return lines;
}

const mean = (values: readonly number[]): number =>
  values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;

function searchLines({ searches }: Proof): readonly string[] {
  const found = searches.filter(({ foundAt }) => foundAt !== null);
  const compared = found.filter(({ habitualMinutes }) => habitualMinutes !== null);
  const ours = mean(compared.map(({ minutes }) => minutes));
  const habit = mean(compared.map(({ habitualMinutes }) => habitualMinutes ?? 0));
  const silent = searches.filter(({ looks }) => looks === 0).length;
  const slowest = Math.max(0, ...searches.map((made) => made.slowestRankingSeconds));
  return [
    `Searches: ${searches.length}, of which ${found.length} showed the cause; ${searches.length - found.length} were left unresolved, ${silent} of them without one look that was named.`,
    `Minutes of looking to a cause, mean of ${compared.length}: ${ours.toFixed(1)} as ranked, ${habit.toFixed(1)} in the habitual order.`,
    `Longest wait for a ranking: ${slowest.toFixed(2)} s.`,
  ];
}

/** How fast the work went as the journal grew. */
function paceLines({ pace }: Proof): readonly string[] {
  if (pace.length === 0) return [];
  const columns = [10, 9, 22, 16, 10];
  const names = ['up to day', 'commands', 'per processor second', 'checks, seconds', 'MiB'];
  const marks = pace.map((mark) =>
    row(
      [
        mark.day,
        mark.commands,
        Math.round(mark.commands / mark.workSeconds),
        Math.round(mark.checkSeconds),
        Math.round(mark.residentMegabytes),
      ],
      columns,
    ),
  );
  return [
    '',
    row(
      names.map((name, at) => name.padStart(columns[at] ?? 0)),
      columns,
    ),
    ...marks,
  ];
}

/** Commands and questions whose answer was waited for longest. */
function waitLines({ timings }: Proof): readonly string[] {
  const line = ([name, timing]: readonly [string, Timing]): string =>
    row(
      [
        `  ${name}`,
        timing.count,
        (timing.totalMilliseconds / timing.count).toFixed(0).padStart(6),
        timing.longestMilliseconds.toFixed(0).padStart(7),
      ],
      [34, 7, 6, 7],
    );
  return [
    row(['longest waits, milliseconds', 'asked', '  mean', 'longest'], [34, 7, 6, 7]),
    ...timings.commands.slowest(5).map(line),
    ...timings.questions.slowest(3).map(line),
  ];
}

/** What the plant fills, and how much of it its balances can prove. */
export function containerLines(size: PlantSize): readonly string[] {
  return standardsOf(size)
    .map(provable)
    .map(
      (of) =>
        `${of.pieceStandard}: tubes of ${of.piecesPerTube}, boxes of ${of.tubesPerBox} tubes; the tube balance proves up to ${of.mostPieces} pieces.`,
    );
}

/** A run in words. */
export function report(proof: Proof): string {
  const { planted, breaches, falseAlarms } = proof;
  const alarms = controls.flatMap((control) => {
    const count = falseAlarms.filter((alarm) => alarm.control === control).length;
    return count > 0 ? [`${control} ${count}`] : [];
  });
  const hidden = planted.filter((fault) => fateOf(fault) === 'hidden' && movesPieces(fault));
  const left = planted.filter((fault) => fateOf(fault) === 'signed');
  const refusals = [...proof.refusals].sort(([, a], [, b]) => b - a);
  return [
    `Seed ${proof.seed}, ${proof.days} days, ${proof.shifts} shifts: ${proof.pieces} pieces struck.`,
    `${proof.commands} commands, ${proof.entries} entries, last hash ${proof.lastHash.slice(0, 16)}.`,
    `${(proof.commands / proof.workSeconds).toFixed(0)} commands per second in ${proof.workSeconds.toFixed(1)} s of work (${(proof.commands / proof.processorSeconds).toFixed(0)} per second of processor time); ${proof.checkSeconds.toFixed(1)} s of checks (${proof.checkProcessorSeconds.toFixed(1)} of processor time), ${proof.rebuilds} rebuilds, ${proof.restarts} restarts of the process.`,
    ...paceLines(proof),
    '',
    ...table(planted),
    '',
    ...searchLines(proof),
    '',
    ...waitLines(proof),
    '',
    `False alarms: ${falseAlarms.length}${alarms.length > 0 ? `: ${alarms.join(', ')}` : ''}.`,
    `Refusals met: ${refusals.map(([name, count]) => `${name} ${count}`).join(', ') || 'none'}.`,
    ...(left.length > 0 ? ['', 'Left open and signed:'] : []),
    ...left.map((fault) => `  ${fault.shift}  ${fault.kind}: ${fault.words}. ${fault.reason}`),
    ...(proof.obstacles.length > 0 ? ['', 'What the record left no way to do:'] : []),
    ...proof.obstacles.map(({ shift, words }) => `  ${shift}  ${words}.`),
    ...(hidden.length > 0 ? ['', 'Pieces whose fault stayed hidden:'] : []),
    ...hidden.map((fault) => `  ${fault.shift}  ${fault.kind}: ${fault.words}.`),
    ...(breaches.length > 0 ? ['', 'BROKEN:'] : ['', 'Every invariant held.']),
    ...breaches.map(
      ({ shift, what, command }) => `  ${shift}  ${what}${command ? `\n    ${command}` : ''}`,
    ),
  ].join('\n');
}
