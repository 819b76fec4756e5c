import type { Reading } from '../../journal/reading.ts';
import { type Refusal, refuse } from '../../journal/refusal.ts';
import {
  type Instrument,
  isCalibrationOverdue,
  type PieceStandard,
  stoppedInstrument,
} from '../registers/index.ts';
import { receivingRefusals } from './refusals.ts';

/** Factor by which a mass may differ from the declared one before a slip of unit or digits is certain. */
const plausibleFactor = 2;

/** Share by which the blanks of an off-weight melt may lie outside the limits of their standard. */
export const offWeightRelative = 0.02;

/** A balance with the figures that a count by weight needs. */
export interface Balance {
  readonly instrument: string;
  readonly divisionGrams: number;
  readonly repeatabilityGrams: number;
  readonly gainRelative: number;
}

/** The registered instrument as a balance whose readings count today, or the reason why not. */
export function usableBalance(
  instrument: Instrument | undefined,
  asked: { readonly instrument: string; readonly day: string },
): { readonly balance: Balance } | { readonly refusal: Refusal } {
  const { divisionGrams, repeatabilityGrams, gainRelative } = instrument ?? {};
  const isBalance = instrument?.kind === 'balance';
  if (!isBalance || !divisionGrams || repeatabilityGrams == null || gainRelative == null) {
    const state = instrument ? `a ${instrument.kind}, not a balance` : 'not in the register';
    const refusal = refuse(receivingRefusals, 'InstrumentUnknown', {
      message: `${asked.instrument} is ${state}.`,
      field: 'instrument',
      figures: { instrument: asked.instrument },
    });
    return { refusal };
  }
  if (isCalibrationOverdue(instrument, asked.day)) {
    const { calibrationDue } = instrument;
    const refusal = refuse(receivingRefusals, 'CalibrationOverdue', {
      message: `The calibration of ${instrument.title} was due on ${calibrationDue}; today is ${asked.day}.`,
      field: 'instrument',
      figures: { instrument: asked.instrument, calibrationDue, day: asked.day },
    });
    return { refusal };
  }
  const [stopped] = stoppedInstrument(instrument, 'instrument');
  if (stopped) return { refusal: stopped };
  const figures = { divisionGrams, repeatabilityGrams, gainRelative };
  return { balance: { instrument: instrument.instrument, ...figures } };
}

/** A refusal where the mass cannot be that of so many pieces, whatever their deviations. */
export function implausibleMass(mass: {
  readonly reading: Reading;
  readonly field: string;
  readonly netMicrograms: number;
  readonly pieces: number;
  readonly standard: PieceStandard;
}): readonly Refusal[] {
  const expectedGrams = (mass.pieces * mass.standard.massDeclaredMilligrams) / 1000;
  const netGrams = mass.netMicrograms / 1e6;
  const ratio = netGrams / expectedGrams;
  if (ratio >= 1 / plausibleFactor && ratio <= plausibleFactor) return [];
  return [
    refuse(receivingRefusals, 'MassImplausible', {
      message: `${netGrams} g net for ${mass.pieces} pieces that weigh about ${expectedGrams} g.`,
      field: mass.field,
      figures: { reading: mass.reading.text, unit: mass.reading.unit, netGrams, expectedGrams },
    }),
  ];
}
