import { type Refusal, refuse } from '../../journal/refusal.ts';
import { faces, type StrikeRecorded } from './bodies.ts';
import type { RunRow } from './books.ts';
import { instrumentRefusals } from './instrument-check.ts';
import { pressRoomRefusals } from './refusals.ts';
import { runClosed, runUnknown } from './run-check.ts';
import type { RecordStrikeInput, StrikeFacts } from './strike-input.ts';

/** Strokes that a press makes for one piece at the most: relief of polished blanks comes up in several. */
const strokesPerPiece = 6;

/** Strokes without a blank that its counter may hold beside: setting up, feeding, trying. */
const idleStrokes = 100;

/** Refuses a stroke that no press can have come to with the blanks that are there. */
function beyondBlanks(
  { strikeNumber }: RecordStrikeInput,
  { run, melt }: RunRow,
  blanksTaken: number,
): readonly Refusal[] {
  const greatestStrike = strokesPerPiece * blanksTaken + idleStrokes;
  if (strikeNumber <= greatestStrike) return [];
  return [
    refuse(pressRoomRefusals, 'StrikeBeyondBlanks', {
      message: `Strike ${strikeNumber} of run ${run}: ${blanksTaken} blanks of melt ${melt} came to the press room, for which up to ${greatestStrike} strokes are taken.`,
      field: 'strikeNumber',
      figures: { run, strikeNumber, blanksTaken, greatestStrike },
    }),
  ];
}

/** Why the run takes no strike of that kind and number. */
function runRefusals(input: RecordStrikeInput, found: StrikeFacts): readonly Refusal[] {
  const { run } = found;
  const { run: named, occasion, strikeNumber } = input;
  if (!run) return [runUnknown(named)];
  if (run.state === 'closed') return [runClosed(run)];
  if (strikeNumber <= run.lastStrike) {
    return [
      refuse(pressRoomRefusals, 'StrikeOutOfOrder', {
        message: `Strike ${strikeNumber} of run ${named} is not behind strike ${run.lastStrike}, which was examined last.`,
        field: 'strikeNumber',
        figures: { run: named, strikeNumber, lastStrike: run.lastStrike },
      }),
    ];
  }
  const beyond = beyondBlanks(input, run, found.blanksTaken);
  if (beyond.length > 0) return beyond;
  const figures = { run: named, occasion };
  if (occasion === 'first' && run.firstApproved) {
    const message = `Run ${named} has an approved first strike.`;
    return [
      refuse(pressRoomRefusals, 'FirstStrikeAlreadyApproved', {
        message,
        field: 'occasion',
        figures,
      }),
    ];
  }
  if (occasion !== 'first' && input.verdict === 'approved' && !run.firstApproved) {
    const message = `Run ${named} has no approved first strike; a ${occasion} strike cannot be approved before it.`;
    return [
      refuse(pressRoomRefusals, 'FirstStrikeNotApproved', { message, field: 'occasion', figures }),
    ];
  }
  return [];
}

const kindsOfReading = {
  mass: ['balance'],
  diameter: ['micrometer', 'gauge'],
  thickness: ['micrometer', 'gauge'],
} as const;

function approvalRefusals(
  input: RecordStrikeInput,
  outside: StrikeRecorded['outside'],
  found: StrikeFacts,
): readonly Refusal[] {
  if (input.verdict !== 'approved') return [];
  const units = {
    mass: ['massLeastMilligrams', 'massGreatestMilligrams', 'mg'],
    diameter: ['diameterLeastMillimetres', 'diameterGreatestMillimetres', 'mm'],
    thickness: ['thicknessLeastMillimetres', 'thicknessGreatestMillimetres', 'mm'],
  } as const;
  const readings = outside.map((name) => {
    const [least, greatest, unit] = units[name];
    const limits = {
      least: found.standard?.[least] ?? 0,
      greatest: found.standard?.[greatest] ?? 0,
    };
    // A mass is read in grams; its limits are said in the same unit.
    const said =
      name === 'mass'
        ? `${limits.least / 1000} to ${limits.greatest / 1000} g`
        : `${limits.least} to ${limits.greatest} ${unit}`;
    return refuse(pressRoomRefusals, 'StrikeOutsideLimits', {
      message: `The ${name} ${input[name].text} ${input[name].unit} lies outside ${said}.`,
      field: name,
      figures: { reading: input[name].text, readingUnit: input[name].unit, ...limits, unit },
    });
  });
  return [...readings, ...photographRefusals(input)];
}

/** First and last strikes are compared later, so all three sides have to be there. */
function photographRefusals(input: RecordStrikeInput): readonly Refusal[] {
  const shown = new Set(input.photographs.map((photograph) => photograph.face));
  const missing = faces.filter((face) => !shown.has(face));
  if (input.occasion === 'roving' || missing.length === 0) return [];
  return [
    refuse(pressRoomRefusals, 'PhotographsMissing', {
      message: `A ${input.occasion} strike needs photographs of both faces and the edge; missing: ${missing.join(', ')}.`,
      field: 'photographs',
      figures: { missing: [...missing] },
    }),
  ];
}

/** A photograph shows one face: the same file under a second one is a wrong choice. */
function photographedTwice({ photographs }: RecordStrikeInput): readonly Refusal[] {
  return photographs.flatMap(({ face, sha256 }, index) => {
    const first = photographs.find((one) => one.sha256 === sha256);
    if (!first || photographs.indexOf(first) === index) return [];
    const other = first.face === face ? 'stands twice' : `is the one of the ${first.face}`;
    return refuse(pressRoomRefusals, 'PhotographTwice', {
      message: `The photograph of the ${face} ${other}.`,
      field: 'photographs',
      figures: { face, other: first.face, sha256 },
    });
  });
}

/** Every reason why a strike is not recorded: the run first, then the instruments, then the approval. */
export function strikeRefusals(
  input: RecordStrikeInput,
  found: StrikeFacts,
  outside: StrikeRecorded['outside'],
): readonly Refusal[] {
  const instruments = (['mass', 'diameter', 'thickness'] as const).flatMap((reading) =>
    instrumentRefusals(found.instruments[reading], {
      kinds: kindsOfReading[reading],
      field: `instruments.${reading}`,
    }),
  );
  return [
    ...runRefusals(input, found),
    ...instruments,
    ...photographedTwice(input),
    ...approvalRefusals(input, outside, found),
  ];
}
