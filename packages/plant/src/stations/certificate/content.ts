import { z } from 'zod';

// This file describes what a certificate says. It is read in the browser too, by the check of a
// certificate, and so imports nothing of the plant.

const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);
const entryNumber = z.number().int().min(1);
const text = z.string();

const reading = z.strictObject({ text, unit: text, typed: z.boolean() });

/** A result with everything that is needed to compute it once more. */
const calculated = z.strictObject({
  calculation: text,
  version: z.number().int().min(1),
  input: z.record(z.string(), z.json()),
  output: z.record(z.string(), z.json()),
});

/** A figure of a calculation: its name in the certificate and the path of a field in its input or output. */
const figure = z.strictObject({ calculation: text, field: text });

const namedCalculation = z.strictObject({
  /** Name within the melt or box, by which figures refer to it: `cupellation 2`. */
  name: text,
  /** The entry of the journal that holds it. */
  entry: entryNumber,
  calculated,
});

/** A raw reading, and the fields of calculations that it enters. */
const certifiedReading = z.strictObject({
  label: text,
  quantity: text,
  reading,
  entry: entryNumber,
  feeds: z.array(figure),
});

const person = z.strictObject({ person: text, name: text });

const signedAct = z.strictObject({ entry: entryNumber, instant: text, by: person });

/** One weighing of a tube: what the balance sent, and the net mass that enters the count. */
const weighing = z.strictObject({
  gross: reading,
  /** Null where the tare is the stored one of the piece standard. */
  tare: reading.nullable(),
  tareMicrograms: wholeNumber,
  netMicrograms: z.number().int(),
  entry: entryNumber,
});

const certifiedTube = z.strictObject({
  tube: text,
  melt: text,
  pieces: wholeNumber,
  grossMicrograms: wholeNumber,
  /** Weighings of this filling, oldest first; the last is the mass that counts. */
  weighings: z.array(weighing).min(1),
  count: namedCalculation,
});

/** What a box holds of one melt; its fine mass is rounded once, as the account books it. */
const boxPart = z.strictObject({
  melt: text,
  pieces: wholeNumber,
  grossMicrograms: wholeNumber,
  fineMicrograms: wholeNumber,
  fine: namedCalculation,
});

const certifiedBox = z.strictObject({
  box: text,
  seal: text,
  entry: entryNumber,
  instant: text,
  pieces: wholeNumber,
  /** Sum over the tubes, net: this is the mass that the certificate states. */
  grossMicrograms: wholeNumber,
  fineMicrograms: wholeNumber,
  parts: z.array(boxPart).min(1),
  boxGross: reading,
  /** Null where the tare is the stored one of the piece standard. */
  boxTare: reading.nullable(),
  boxTareMicrograms: wholeNumber,
  /** Closed box less its tare and less its closed tubes: what went in or out since they were weighed. */
  boxLessTubesMicrograms: z.number().int(),
  tubes: z.array(certifiedTube).min(1),
});

const recordedAct = z.strictObject({ entry: entryNumber, instant: text });

const sampling = z.strictObject({
  /** Blanks drawn for the melt, and why so many. */
  samplePieces: wholeNumber,
  words: text,
  drawnFrom: z.array(text),
  ordered: recordedAct,
  drawn: recordedAct,
  /** The entry whose hash is the seed of the draw. */
  seedEntry: entryNumber,
  calculations: z.array(namedCalculation),
  blanks: z.array(text),
  /** Further blanks that the laboratory asked for; absent where it asked for none. */
  further: z
    .array(
      z.strictObject({
        round: z.number().int().min(1),
        /** The hash of that entry is the seed of the draw. */
        asked: recordedAct,
        reason: text,
        drawn: recordedAct,
        drawnFrom: z.array(text),
        blanks: z.array(text),
      }),
    )
    .exactOptional(),
});

/** A measured blank, with its three readings. */
const measuredBlank = z.strictObject({
  blank: text,
  /** Whether it belongs to the sample by which the lot was judged. */
  forPhysical: z.boolean(),
  mass: reading,
  diameter: reading,
  thickness: reading,
  entry: entryNumber,
  conforms: z.boolean(),
});

const physical = z.strictObject({
  blanksForPhysical: wholeNumber,
  blanksNonconforming: wholeNumber,
  acceptanceNumber: wholeNumber,
  state: z.enum(['open', 'accepted', 'rejected']),
  blanks: z.array(measuredBlank),
});

const determination = z.strictObject({
  label: text,
  run: text,
  blank: text,
  finenessPerMille: z.number(),
  from: figure,
  state: z.enum(['valid', 'void', 'discarded']),
  /** Why it does not count; null for a valid one. */
  reason: text.nullable(),
});

const certifiedMelt = z.strictObject({
  melt: text,
  consignment: text,
  supplier: text,
  received: text,
  pieces: wholeNumber,
  method: z.strictObject({ name: text, description: text, began: text, ended: text }),
  sampling,
  physical,
  readings: z.array(certifiedReading),
  calculations: z.array(namedCalculation),
  /** Figures that one calculation takes from another. */
  links: z.array(z.strictObject({ from: figure, to: figure })),
  determinations: z.array(determination),
  result: z.strictObject({
    finenessPerMille: z.number(),
    finenessFrom: figure,
    standardUncertaintyPerMille: z.number(),
    standardUncertaintyFrom: figure,
    degreesOfFreedom: z.number().nullable(),
  }),
  decision: z.strictObject({
    limitPerMille: z.number(),
    /** Guard band in standard uncertainties. */
    guardFactor: z.number(),
    /** What the probability of conformity is held against; absent where the guard factor was stated. */
    requiredConformanceProbability: z.number().exactOptional(),
    degreesOfFreedom: z.number().nullable().exactOptional(),
    verdict: z.enum(['passes', 'undecided', 'fails']),
    conformanceProbability: z.number(),
    consumerRisk: z.number(),
    guardBandPerMille: z.number(),
    acceptanceLimitPerMille: z.number(),
    rejectionLimitPerMille: z.number(),
    /** Name of the calculation of the verdict among those of the melt. */
    calculation: text,
  }),
  /** Absent where the piece standard has no impurity table. */
  impurities: z.strictObject({ state: text, words: text, calculation: text }).exactOptional(),
  ruling: z.strictObject({
    ruling: z.enum(['release', 'concession']),
    reason: text,
    act: signedAct,
  }),
  signed: signedAct,
  checked: signedAct,
});

const statement = z.strictObject({ clause: text, title: text, text });

/** Everything that a certificate says. It stands whole in the entry that issues it. */
export const certificateContentSchema = z.strictObject({
  format: z.literal('cupel certificate 1'),
  certificate: text,
  title: text,
  issued: text,
  plant: z.strictObject({ plant: text, title: text, timeZone: text }),
  issuer: person,
  /** Certificate that this one replaces; null for a first issue. */
  replaces: text.nullable(),
  pieceStandard: z.strictObject({
    pieceStandard: text,
    title: text,
    metal: z.enum(['gold', 'silver']),
    finenessDeclaredPartsPerMillion: z.number().int().min(1).max(1_000_000),
    finenessLimitPerMille: z.number(),
    massDeclaredMilligrams: z.number(),
    massLeastMilligrams: z.number(),
    massGreatestMilligrams: z.number(),
    diameterLeastMillimetres: z.number(),
    diameterGreatestMillimetres: z.number(),
    thicknessLeastMillimetres: z.number(),
    thicknessGreatestMillimetres: z.number(),
    impurityTable: z
      .strictObject({
        edition: text,
        limits: z.array(z.strictObject({ element: text, limitMilligramsPerKilogram: z.number() })),
      })
      .exactOptional(),
  }),
  totals: z.strictObject({
    boxes: wholeNumber,
    tubes: wholeNumber,
    pieces: wholeNumber,
    grossMicrograms: wholeNumber,
    fineMicrograms: wholeNumber,
  }),
  boxes: z.array(certifiedBox).min(1),
  melts: z.array(certifiedMelt).min(1),
  statements: z.array(statement),
});

export type CertificateContent = z.infer<typeof certificateContentSchema>;
export type CertifiedBox = CertificateContent['boxes'][number];
export type CertifiedPart = CertifiedBox['parts'][number];
export type CertifiedTube = CertifiedBox['tubes'][number];
export type CertifiedMelt = CertificateContent['melts'][number];
export type CertifiedReading = z.infer<typeof certifiedReading>;
export type NamedCalculation = z.infer<typeof namedCalculation>;
export type CalculationFigure = z.infer<typeof figure>;
export type MeasuredBlank = z.infer<typeof measuredBlank>;
export type CertifiedDetermination = z.infer<typeof determination>;
export type CertificateStatement = z.infer<typeof statement>;
