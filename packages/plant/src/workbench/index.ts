/*
 * GUIDE: how a station makes its screens.
 *
 * A station exports `screens` from `stations/<name>/screen.tsx` and imports everything it needs from
 * this file. Detail paths name their parts with $; the values arrive decoded in `params`.
 *
 *   export const screens = defineScreens([
 *     { path: '/put-up', station: 'put-up', title: 'Put-up', Component: PutUpDesk },
 *     { path: '/put-up/tubes/$tube', station: 'put-up', title: 'Tube', Component: WeighTube },
 *   ]);
 *
 *   function WeighTube({ params }: ScreenProps) {
 *     const tube = params['tube'] ?? '';
 *     const { answer, problem } = useQuestion<TubeAnswer>('tube', { tube });
 *     const [draft, change, clear] = useDraft(`weigh-tube ${tube}`, { pieces: '20', gross: emptyReading('g') });
 *     const weigh = useCommand('weigh-tube', { onRecorded: clear });
 *     if (!answer) return <Page title={`Tube ${tube}`}><Pending problem={problem} /></Page>;
 *     return (
 *       <Page title={`Tube ${tube}`} about={<State word={answer.state} />}
 *         known={<><Facts facts={[['Melt', <ThingLink thing="melt" id={answer.melt} />]]} /><LineageStrip thing="tube" id={tube} /></>}
 *         act={<MainAct label="Record tube" command={weigh} input={() => ({ tube, pieces: wholeNumberOf(draft.pieces), gross: readingOf(draft.gross) })} />}>
 *         <ReadingField label="Gross" large value={draft.gross} onChange={(gross) => change({ gross })} refusal={weigh.refusalAt('gross.text')} />
 *         <TextField label="Pieces" kind="whole number" value={draft.pieces} onChange={(pieces) => change({ pieces })} refusal={weigh.refusalAt('pieces')} />
 *       </Page>
 *     );
 *   }
 *
 * PAGE     Page {title, about?, known?, act?}   work left two thirds, known right third, Enter goes on, Escape goes back
 *          Section {id, title, isFinished, result, aside?}   a part of a long page with an address behind #, folded to its result once finished;
 *          PageContents {sections: {id, title}[]}   links to them, above
 *          Part {title, aside?} · Facts {facts: [name, value][]} · Empty {what, how} · Pending {problem?}
 * FIELDS   Enter moves on in document order, at the end to the main act. `refusal` stands at the field.
 *          TextField {label, value, onChange, kind?: text|code|whole number|decimal|date|password|long, unit?, hint?, refusal?, optional?, scans?}
 *            kind "code" takes scans; the first empty field that takes scans or weights is ringed as the one that waits
 *          ReadingField {label, value: ReadingDraft, onChange, onInstrument?, large?, hint?, refusal?}; emptyReading(unit), readingOf(draft) → Reading | null
 *            onInstrument(id): an instrument on a line of its own sent it; set the page's balance to it
 *          ChoiceField {label, value, choices: {value,label}[], onChange} · CheckField {label, checked, onChange}
 *          SearchedChoice {label, value, choices: {value, label, purpose, source}[], onChange}   one of many, found by its words; never typed as an id
 *          FieldRow, FieldGroup {title} · wholeNumberOf(text), decimalOf(text): number, or the text itself so that the plant refuses it by name
 * ACTS     useCommand(command, {onRecorded?}) → {stage, refusals, refusalAt(field), entries, answer, send, reset}
 *          MainAct {label, command, input: () => input, notYet?}   one per page, given as Page's `act`; asks for signature and witness by itself,
 *            shows refusals, says by whom the act is done when the person may not, opens no signature while a field that is asked for stands empty; SideAct takes the same, drawn quietly, for lesser acts in the work
 *          useMay(command) · useDraft(name, initial) → [draft, change(part), clear]   outlives reloads and sign-outs by time; never for passwords
 *          useKeptSheet({command, thing}, initial) → [value, change(part), clear, sheet]   a draft that the plant keeps: there on return, on another
 *            device too; SheetKept {sheet} says where it is kept and asks where two devices differ. For worksheets that are filled over hours
 *          SignDialog, RefusalList: used by the acts, seldom needed otherwise · PhotographField {label, sha256, onChange} · KeptFileField {label, value: KeptDocument | null, onChange}
 *          CommandForm {command, label?, given?, initial?, isMain?, own?, onRecorded?}   a whole form made from the command's schema, with its act; empty rows at the
 *            end of its tables are left out, half-filled ones are refused by their number;
 *            own: {field: Component} draws a field of it in a way of the page's own
 * ASKING   useQuestion<Answer>(question, input) → {answer, isAsking, problem}   asked again whenever anyone records; input undefined: not asked yet
 * FIGURES  Figure {value, unit?, decimals?, uncertainty?, size?: line|fact|result|live} · Mass {micrograms, unit?: kg|g|mg, decimals?}
 *          ReadingFigure {reading} · Probability {value} · printNumber, printMicrograms, printInstant, printAge, printAgo, inWords
 *          State {word, tone?: plain|done|waits|look|stopped}   colour only for what needs a hand · Metal {metal}
 * DRAWN    LimitRule {value, expandedUncertainty?, lowerLimit?, upperLimit?, guardBand?, range?, unit, words, decimals?, size?: row|page}
 *          Chart {figures: {title, xTitle, yTitle, series: [{label, kind, x, y}], marks?}}   the shape in which calculations draw
 *          Drawings {drawings}   what a calculation drew, charts and limit rules
 * TABLES   Table {caption, rows, keyOf, columns: [{key, title, unit?, value(row), cell?(row), decimals?, isNumber?, sum?(rows)}], filter?, order?, isMarked?}
 * PEOPLE   useNames() → {nameOf(person), namesOf(author, witness?)}   full names; sign-in names stand only where they are typed; <PeopleNamed author witness?>
 *          OneTimeCode {person, name}   the chief assayer gives an enrolled person the code for the first sign-in
 * LINKS    PathLink {to} · ThingLink {thing, id} → lineage · pathTo('/put-up/tubes/$tube', {tube}) · useGo()(path)
 *          LineageStrip {thing, id} · PaperLink {paper, id} → a printed paper · useSession().session.person
 */
export {
  LineWord,
  StandsHere,
  useInstrumentLine,
  useSendsCurves,
  useStreamedCurves,
} from './bench-instruments.tsx';
export { Chart } from './chart.tsx';
export { CommandForm } from './command-form.tsx';
export { type Drawing, Drawings } from './drawings.tsx';
export {
  CheckField,
  ChoiceField,
  FieldGroup,
  FieldRow,
  TextField,
  type TextKind,
} from './field.tsx';
export { Figure, Mass, Probability, ReadingFigure } from './figure.tsx';
export { type KeptDocument, KeptFileField } from './kept-file-field.tsx';
export { LimitRule } from './limit-rule.tsx';
export { LineageStrip } from './lineage-strip.tsx';
export { MainAct, SideAct } from './main-act.tsx';
export {
  decimalOf,
  inWords,
  printAge,
  printAgo,
  printDecimal,
  printInstant,
  printMicrograms,
  printNumber,
  wholeNumberOf,
} from './number-text.ts';
export { OneTimeCode } from './one-time-code.tsx';
export { Empty, Facts, Page, Part, Pending } from './page.tsx';
export type { OwnFieldProps } from './pages/schema-part.ts';
export { PaperLink } from './paper-link.tsx';
export { PathLink, pathTo, ThingLink, useGo } from './path-link.tsx';
export { PeopleNamed } from './people-named.tsx';
export { PhotographField } from './photograph-field.tsx';
export { attachmentPath } from './plant-client.ts';
export { emptyReading, type ReadingDraft, readingOf } from './reading-draft.ts';
export { ReadingField } from './reading-field.tsx';
export { defineScreens, type Screen, type ScreenProps } from './screen.ts';
export { SearchedChoice } from './searched-choice.tsx';
export { PageContents, Section, SectionPlace } from './section.tsx';
export { useMay, useSession } from './session.tsx';
export { SheetKept } from './sheet-kept.tsx';
export { Metal, State, type StateTone } from './state.tsx';
export { type Column, Table } from './table.tsx';
export { type CommandInHand, useCommand } from './use-command.ts';
export { useDraft } from './use-draft.ts';
export { useKeptSheet } from './use-kept-sheet.ts';
export { useNames } from './use-names.ts';
export { useQuestion } from './use-question.ts';
