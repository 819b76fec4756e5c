/**
 * The invented plant of the demonstration. Plant, pieces, suppliers and people exist nowhere.
 */

/** Title and time zone of the plant. */
export const plantTitle = 'Amber Weir Striking Works';
export const plantTimeZone = 'Europe/Vienna';

/** Id that the store and every entry bear. */
export const plantId = 'amber-weir';

/** People: id, name, roles and the methods they are authorised for. */
export const people = [
  { person: 'orla', name: 'Orla Venn', roles: ['chief assayer'], methods: [] },
  {
    person: 'tamsin',
    name: 'Tamsin Brook',
    roles: ['assayer'],
    methods: ['cupellation', 'fineness-by-difference'],
  },
  {
    person: 'idris',
    name: 'Idris Halm',
    roles: ['assayer'],
    methods: ['cupellation', 'fineness-by-difference'],
  },
  { person: 'wren', name: 'Wren Castor', roles: ['inspector'], methods: [] },
  { person: 'milo', name: 'Milo Tarn', roles: ['inspector'], methods: [] },
  { person: 'bettina', name: 'Bettina Roke', roles: ['custodian'], methods: [] },
  { person: 'jonas', name: 'Jonas Elm', roles: ['custodian'], methods: [] },
  { person: 'petra', name: 'Petra Quill', roles: ['die keeper'], methods: [] },
  { person: 'sorrel', name: 'Sorrel Dane', roles: ['metal accountant'], methods: [] },
  { person: 'anselm', name: 'Anselm Grey', roles: ['auditor'], methods: [] },
] as const;

export type PersonId = (typeof people)[number]['person'];

/** What both kinds of piece are judged by. */
const judged = {
  guardFactor: 2,
  requiredConformanceProbability: 0.977,
  inspectionLevel: 'S-4',
  acceptanceQualityLimitPercent: 0.65,
  priorMiscountProbability: 0.0002,
  badWeighingProbability: 0.001,
  badWeighingSpreadGrams: 20,
} as const;

/** The silver piece: a heron on one face, reeds on the other. */
export const heron = {
  pieceStandard: 'heron-20',
  title: 'Heron, twenty grams silver',
  metal: 'silver',
  finenessDeclaredPartsPerMillion: 999_000,
  finenessLimitPerMille: 999,
  assayMethod: 'fineness-by-difference',
  blanksForAssayPerMelt: 3,
  duplicateLimitPerMille: 0.05,
  /** Invented limits, as everything here: no standard's table. */
  impurityTable: {
    edition: 'Amber Weir silver, first edition',
    limits: [
      { element: 'Cu', limitMilligramsPerKilogram: 800 },
      { element: 'Pb', limitMilligramsPerKilogram: 300 },
      { element: 'Bi', limitMilligramsPerKilogram: 200 },
      { element: 'Au', limitMilligramsPerKilogram: 200 },
      { element: 'Fe', limitMilligramsPerKilogram: 150 },
      { element: 'Zn', limitMilligramsPerKilogram: 100 },
      { element: 'Pd', limitMilligramsPerKilogram: 50 },
      { element: 'Ni', limitMilligramsPerKilogram: 20 },
      { element: 'Cd', limitMilligramsPerKilogram: 20 },
    ],
  },
  massDeclaredMilligrams: 20_050,
  massLeastMilligrams: 20_000,
  massGreatestMilligrams: 20_120,
  diameterLeastMillimetres: 35.9,
  diameterGreatestMillimetres: 36.1,
  thicknessLeastMillimetres: 1.8,
  thicknessGreatestMillimetres: 2.1,
  pieceStandardDeviationMilligrams: 15,
  lotStandardDeviationMilligrams: 6,
  referencePieces: 100,
  piecesPerTube: 20,
  tubesPerBox: 10,
  tubeTareGrams: 14.2,
  tubeTareStandardDeviationGrams: 0.08,
  boxTareGrams: 612,
  boxTareStandardDeviationGrams: 2,
  ...judged,
} as const;

/** The gold piece: a lantern on one face, a stair on the other. */
export const lantern = {
  pieceStandard: 'lantern-12',
  title: 'Lantern, twelve grams gold 750',
  metal: 'gold',
  finenessDeclaredPartsPerMillion: 750_000,
  finenessLimitPerMille: 750,
  assayMethod: 'cupellation',
  blanksForAssayPerMelt: 2,
  duplicateLimitPerMille: 0.5,
  massDeclaredMilligrams: 12_020,
  massLeastMilligrams: 12_000,
  massGreatestMilligrams: 12_060,
  diameterLeastMillimetres: 25.95,
  diameterGreatestMillimetres: 26.05,
  thicknessLeastMillimetres: 1.4,
  thicknessGreatestMillimetres: 1.65,
  pieceStandardDeviationMilligrams: 6,
  lotStandardDeviationMilligrams: 3,
  referencePieces: 100,
  piecesPerTube: 20,
  tubesPerBox: 5,
  tubeTareGrams: 9.1,
  tubeTareStandardDeviationGrams: 0.05,
  boxTareGrams: 284,
  boxTareStandardDeviationGrams: 1,
  ...judged,
} as const;

/** The new piece, of which a first melt comes late in the fortnight: an otter on one face, a weir on the other. */
export const otter = {
  pieceStandard: 'otter-25',
  title: 'Otter, twenty-five grams silver 925',
  metal: 'silver',
  finenessDeclaredPartsPerMillion: 925_000,
  finenessLimitPerMille: 925,
  assayMethod: 'titration',
  blanksForAssayPerMelt: 2,
  duplicateLimitPerMille: 0.6,
  massDeclaredMilligrams: 25_060,
  massLeastMilligrams: 25_000,
  massGreatestMilligrams: 25_140,
  diameterLeastMillimetres: 37.9,
  diameterGreatestMillimetres: 38.1,
  thicknessLeastMillimetres: 2,
  thicknessGreatestMillimetres: 2.3,
  hardnessLeastVickers: 60,
  hardnessGreatestVickers: 90,
  grainSizeLeast: 4.5,
  grainSizeGreatest: 7.5,
  pieceStandardDeviationMilligrams: 18,
  lotStandardDeviationMilligrams: 7,
  referencePieces: 100,
  piecesPerTube: 20,
  tubesPerBox: 10,
  tubeTareGrams: 15.1,
  tubeTareStandardDeviationGrams: 0.08,
  boxTareGrams: 640,
  boxTareStandardDeviationGrams: 2,
  ...judged,
} as const;

/** What depends on the size of the containers that a plant fills. */
type Containers = 'piecesPerTube' | 'tubesPerBox' | `${'tube' | 'box'}${string}Grams`;

/** A standard whose containers may have another size. */
type Filled<Standard> = Omit<Standard, Containers> & {
  readonly [Field in keyof Standard & Containers]: number;
};

export type DemonstrationStandard =
  | Filled<typeof heron>
  | Filled<typeof lantern>
  | Filled<typeof otter>;

/** Suppliers of blanks. */
export const suppliers = [
  { supplier: 'fennel', name: 'Fennel and Rusk Rolling' },
  { supplier: 'osterhof', name: 'Osterhof Blanking Company' },
] as const;

/** Who rolls the blanks of the new piece. */
export const newSupplier = { supplier: 'quern', name: 'Quern and Sedge Blanks' } as const;

/** Those who may receive boxes; the last one's approval has run out. */
export const purchasers = [
  { purchaser: 'calder-house', name: 'Calder House Trading', approvedForDays: 300 },
  { purchaser: 'north-quay', name: 'North Quay Depository', approvedForDays: 200 },
  { purchaser: 'old-mill', name: 'Old Mill Brokers', approvedForDays: -30 },
] as const;

/** Dies and collars, by piece standard. */
export const dies = [
  { die: 'H-O-01', part: 'obverse', pieceStandard: heron.pieceStandard },
  { die: 'H-O-02', part: 'obverse', pieceStandard: heron.pieceStandard },
  { die: 'H-R-01', part: 'reverse', pieceStandard: heron.pieceStandard },
  { die: 'H-R-02', part: 'reverse', pieceStandard: heron.pieceStandard },
  { die: 'H-C-01', part: 'collar', pieceStandard: heron.pieceStandard },
  { die: 'L-O-01', part: 'obverse', pieceStandard: lantern.pieceStandard },
  { die: 'L-R-01', part: 'reverse', pieceStandard: lantern.pieceStandard },
  { die: 'L-C-01', part: 'collar', pieceStandard: lantern.pieceStandard },
] as const;
