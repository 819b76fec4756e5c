import { standingResultOf, type TrialAnswer } from './trial-answer.ts';

/** What can be done on the trial of a melt. */
export type MeltAct =
  | 'measure blanks'
  | 'correct measurement'
  | 'cut blanks'
  | 'return blanks'
  | 'ask further blanks'
  | 'record run'
  | 'discard determination'
  | 'sign result'
  | 'check result'
  | 'send result back'
  | 'rule on melt'
  | 'return melt';

/** A trial as far as it decides what can be done. */
export interface TrialInHand {
  readonly stage: TrialAnswer['stage'];
  readonly blanks: readonly {
    readonly forAssay: boolean;
    readonly measurement: unknown;
    readonly cut: unknown;
    readonly returned: unknown;
    /** Set where it lies sealed in a portion: nobody works on it. */
    readonly portion?: unknown;
  }[];
  /** Set where further blanks may be asked for. */
  readonly further: { readonly mayAskSince: unknown };
  readonly determinations: readonly { readonly state: string }[];
  readonly preview: null | { readonly state: 'incomplete' | 'complete' };
  readonly results: readonly {
    readonly state: string;
    readonly body: {
      readonly verdict: string;
      readonly impurities?: { readonly output: Readonly<Record<string, unknown>> };
    };
  }[];
}

/** A melt is judged on at most this many determinations. */
const greatestDeterminations = 10;

const closedStages: readonly string[] = [
  'released',
  'released by concession',
  'refused',
  'returned',
];

/** A measured blank that is whole and lies in the laboratory. */
export const isWholeHere = (blank: TrialInHand['blanks'][number]): boolean =>
  Boolean(blank.measurement) && !blank.cut && !blank.returned && !blank.portion;

const waitsForCutting = (trial: TrialInHand): boolean =>
  trial.blanks.some((blank) => blank.forAssay && isWholeHere(blank));

/** Valid determinations that still may be added. */
export const determinationsLeft = ({ determinations }: TrialInHand): number =>
  greatestDeterminations - determinations.filter(({ state }) => state === 'valid').length;

/** A result that passes or fails is not worked on, unless the melt is held. */
function isOpenForAssay(trial: TrialInHand): boolean {
  const standing = standingResultOf(trial.results);
  if (!standing || trial.stage === 'held') return true;
  const { verdict, impurities } = standing.body;
  const state = impurities?.output['state'];
  return verdict === 'undecided' || state === 'undecided' || state === 'not determined';
}

/** What comes next for a melt by itself; nothing where its trial has ended. */
export function nextActOf(trial: TrialInHand): MeltAct | null {
  const { preview } = trial;
  switch (trial.stage) {
    case 'to be measured':
      return 'measure blanks';
    case 'to be cut':
      return 'cut blanks';
    case 'to be assayed':
    case 'to be signed':
      if (preview?.state === 'complete') return 'sign result';
      return waitsForCutting(trial) ? 'cut blanks' : 'record run';
    case 'to be checked':
      return 'check result';
    case 'to be ruled':
    case 'held':
      return preview?.state === 'complete' ? 'sign result' : 'rule on melt';
    case 'refused':
      return 'return melt';
    default:
      return null;
  }
}

/** Everything that can be done on a melt as it stands, in the order of the work. */
export function actsOf(trial: TrialInHand): readonly MeltAct[] {
  const standing = standingResultOf(trial.results);
  const isOpen = !closedStages.includes(trial.stage);
  const { blanks } = trial;
  const isCut = blanks.some(({ cut }) => cut);
  const isValid = trial.determinations.some(({ state }) => state === 'valid');
  const possible: readonly (readonly [MeltAct, boolean])[] = [
    ['measure blanks', isOpen && blanks.some(({ measurement }) => !measurement)],
    ['cut blanks', isOpen && waitsForCutting(trial)],
    ['ask further blanks', isOpen && trial.further.mayAskSince !== null],
    ['record run', isOpen && isCut && isOpenForAssay(trial) && determinationsLeft(trial) > 0],
    ['discard determination', isOpen && !standing && isValid],
    ['sign result', isOpen && trial.preview?.state === 'complete'],
    ['check result', isOpen && standing?.state === 'signed'],
    ['send result back', isOpen && standing?.state === 'signed'],
    ['rule on melt', trial.stage !== 'returned'],
    ['return melt', trial.stage === 'refused'],
    ['return blanks', blanks.some(isWholeHere)],
    ['correct measurement', isOpen && blanks.some(({ measurement }) => measurement)],
  ];
  return possible.filter(([, can]) => can).map(([act]) => act);
}

const commands: Readonly<Record<Exclude<MeltAct, 'record run'>, string>> = {
  'measure blanks': 'measure-blanks',
  'correct measurement': 'correct-measurement',
  'cut blanks': 'cut-blanks',
  'ask further blanks': 'ask-further-blanks',
  'return blanks': 'return-blanks',
  'discard determination': 'discard-determination',
  'sign result': 'sign-result',
  'check result': 'check-result',
  'send result back': 'send-back-result',
  'rule on melt': 'rule-melt',
  'return melt': 'return-melt',
};

const commandsOfRuns: Readonly<Record<TrialAnswer['method'], string>> = {
  cupellation: 'record-cupellation',
  'fineness-by-difference': 'record-difference',
  titration: 'record-titration',
};

/** The command by which an act is recorded. */
export function commandOf(act: MeltAct, method: TrialAnswer['method']): string {
  if (act !== 'record run') return commands[act];
  return commandsOfRuns[method];
}
