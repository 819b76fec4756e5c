/** Where a fault comes from. */
export const families = ['people', 'instruments', 'metal', 'machine'] as const;

export type Family = (typeof families)[number];

interface Kind {
  readonly family: Family;
  /** True when it makes the pieces that lie somewhere differ from those that the record says. */
  readonly movesPieces: boolean;
  /** Chance at one opportunity: far above life, so that a short run meets every kind. */
  readonly rate: number;
  readonly opportunity: string;
}

const kind = (family: Family, movesPieces: boolean, rate: number, opportunity: string): Kind => ({
  family,
  movesPieces,
  rate,
  opportunity,
});

/** The faults that are planted. */
export const faultKinds = {
  'tally miscounted': kind('people', true, 0.008, 'line of a tally'),
  'digits of a tally transposed': kind('people', true, 0.004, 'line of a tally'),
  'tube miscounted': kind('people', true, 0.008, 'tube filled'),
  'delivery miscounted': kind('people', true, 0.05, 'delivery'),
  'blanks miscounted': kind('people', true, 0.04, 'taking of blanks'),
  'act booked twice': kind('people', true, 0.02, 'act that moves metal'),
  'digits of an entry transposed': kind('people', true, 0.04, 'entry of rejects or blanks'),
  'rejects not written': kind('people', true, 0.05, 'rejects set aside'),
  'rejects written late': kind('people', true, 0.04, 'rejects set aside'),
  'delivery not accepted': kind('people', true, 0.04, 'delivery'),
  'box not written': kind('people', true, 0.04, 'box'),
  'sample not written': kind('people', true, 0.03, 'run'),
  'piece stolen from a tray': kind('people', true, 0.04, 'run'),
  'piece stolen from a tube': kind('people', true, 0.003, 'tube filled'),
  'piece stolen from a sealed box': kind('people', true, 0.02, 'box'),
  'piece fallen': kind('people', true, 0.04, 'run'),
  'piece put into the wrong tube': kind('people', true, 0.004, 'tube filled'),
  'melts mixed in a tube': kind('metal', false, 0.004, 'tube filled'),
  'balance drifts': kind('instruments', false, 0.06, 'shift'),
  'display stuck': kind('instruments', false, 0.002, 'weighing'),
  'wrong tare': kind('instruments', false, 0.003, 'weighing'),
  'bad weighing': kind('instruments', false, 0.004, 'weighing'),
  'melt off its weight': kind('metal', false, 0.06, 'melt'),
  'melt under its fineness': kind('metal', false, 0.06, 'melt'),
  'drum short': kind('metal', true, 0.04, 'drum'),
  'process killed before the commit': kind('machine', false, 0.004, 'turn of the crew'),
  'process killed after the commit': kind('machine', false, 0.006, 'turn of the crew'),
  'disk full': kind('machine', false, 0.004, 'turn of the crew'),
  'answer lost': kind('machine', false, 0.02, 'command'),
  'sent twice at once': kind('machine', false, 0.01, 'command'),
  'clock stepped': kind('machine', false, 0.001, 'turn of the crew'),
} as const satisfies Record<string, Kind>;

export type FaultKind = keyof typeof faultKinds;

export const faultKindNames = Object.keys(faultKinds) as readonly FaultKind[];
