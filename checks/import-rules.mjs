// The one-way import rule, as rules of dependency-cruiser. Upstream follows the metal.

const plant = '(^|/)packages/plant/src';

/** Stations and the stations whose index they may import. A new pair is a decision. */
export const upstreamStations = {
  registers: [],
  receiving: ['registers'],
  laboratory: ['registers', 'receiving'],
  'press-room': ['registers', 'receiving', 'laboratory'],
  'put-up': ['registers', 'receiving', 'laboratory', 'press-room'],
  account: ['registers'],
  search: ['registers', 'put-up', 'account'],
  certificate: ['registers', 'receiving', 'laboratory', 'press-room', 'put-up'],
};

/** Topic folders of the calculation library, in the order in which they may import one another. */
export const calculationFolders = [
  'quantity',
  'uncertainty',
  'control',
  'sampling',
  'weights',
  'counting',
  'mass',
  'physical',
  'assay',
  'conformity',
  'exchange',
  'dies',
  'balance',
  'search',
  'catalogue',
];

const stationRules = Object.entries(upstreamStations).map(([station, upstream]) => ({
  name: `station-${station}`,
  comment: `${station} may read only ${upstream.join(', ') || 'no other station'}, each through its index.`,
  severity: 'error',
  // A station's trial sets up the stations upstream of it for tests.
  from: {
    path: `${plant}/stations/${station}/`,
    pathNot: '(\\.test\\.tsx?|-trial\\.ts|/trial-[^/]*\\.ts)$',
  },
  to: {
    path: `${plant}/stations/`,
    pathNot: [
      `${plant}/stations/${station}/`,
      ...upstream.map((name) => `${plant}/stations/${name}/index\\.ts$`),
    ],
  },
}));

export const forbidden = [
  {
    name: 'no-cycle',
    comment: 'No file may import itself by way of others; types are looked at too.',
    severity: 'error',
    from: { pathNot: '\\.test\\.tsx?$' },
    to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
  },
  {
    name: 'calculation-is-pure',
    comment:
      'The library imports itself and pure numerical packages: nothing of Node, nothing of the plant.',
    severity: 'error',
    from: { path: '(^|/)packages/calculation/src/', pathNot: '\\.test\\.ts$' },
    to: {
      pathNot: ['(^|/)packages/calculation/src/', 'node_modules/(@stdlib|zod|pure-rand)/'],
    },
  },
  {
    name: 'ports-know-no-entry',
    severity: 'error',
    from: { path: `${plant}/ports/`, pathNot: '\\.(test|contract)\\.ts$' },
    to: { path: plant, pathNot: `${plant}/ports/` },
  },
  {
    name: 'journal-knows-no-station',
    severity: 'error',
    // The trial sets up a whole plant of memory for tests, so it may name the memory store.
    from: { path: `${plant}/journal/`, pathNot: '(\\.test|/trial)\\.ts$' },
    to: { path: plant, pathNot: `${plant}/(journal|ports)/` },
  },
  {
    name: 'tables-know-nobody',
    comment: 'Reading and writing of tables knows rows and cells, and nothing of what they mean.',
    severity: 'error',
    from: { path: `${plant}/tables/`, pathNot: '\\.test\\.ts$' },
    to: { path: plant, pathNot: `${plant}/tables/` },
  },
  ...stationRules,
  {
    name: 'stations-know-no-frame',
    comment:
      'What a station derives, rules and answers knows neither server nor browser nor adapter.',
    severity: 'error',
    from: {
      path: `${plant}/stations/`,
      pathNot:
        '(\\.test\\.tsx?|-trial\\.ts|/trial-[^/]*\\.ts|/screen[^/]*\\.tsx|/screens?/.*\\.tsx?)$',
    },
    to: { path: `${plant}/(server|workbench|adapters|cli|main)/` },
  },
  {
    name: 'screens-know-no-server',
    severity: 'error',
    from: { path: `${plant}/(stations/.*/screen|workbench/).*`, pathNot: '\\.test\\.tsx?$' },
    to: { path: `${plant}/(server|adapters|cli)/` },
  },
  {
    name: 'frames-know-no-station',
    severity: 'error',
    from: { path: `${plant}/(server|workbench)/`, pathNot: '\\.test\\.tsx?$' },
    to: { path: `${plant}/(stations|adapters|cli|main)/` },
  },
  {
    name: 'adapters-know-ports',
    severity: 'error',
    from: { path: `${plant}/adapters/`, pathNot: '\\.test\\.ts$' },
    to: { path: plant, pathNot: `${plant}/(adapters|ports)/` },
  },
  {
    name: 'main-is-imported-by-nobody',
    severity: 'error',
    from: { path: plant, pathNot: `(${plant}/(main|cli)/|\\.test\\.tsx?$)` },
    to: { path: `${plant}/main/` },
  },
];
