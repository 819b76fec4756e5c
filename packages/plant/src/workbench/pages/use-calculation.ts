import type { CalculationAnswer } from '@cupel/calculation';
import { useEffect, useRef, useState } from 'react';
import { type Calculating, calculate } from '../calculate.ts';

/** A calculation as a page runs it: one at a time, with its progress, stopped when the page goes. */
export function useCalculation(id: string) {
  const [run, setRun] = useState<CalculationAnswer | undefined>(undefined);
  const [trouble, setTrouble] = useState('');
  const [partDone, setPartDone] = useState<number | undefined>(undefined);
  const current = useRef<Calculating | undefined>(undefined);

  const end = () => {
    current.current?.stop();
    current.current = undefined;
    setPartDone(undefined);
  };
  useEffect(() => () => current.current?.stop(), []);

  const compute = (input: unknown) => {
    end();
    setTrouble('');
    setPartDone(0);
    const calculating = calculate(id, input, setPartDone);
    current.current = calculating;
    calculating.answer
      .then(setRun, (error: Error) => setTrouble(`${error.message} Nothing typed here is lost.`))
      .finally(end);
  };
  const stop = () => {
    end();
    setTrouble('Stopped. Nothing typed here is lost.');
  };
  return { run, trouble, partDone, compute, stop };
}
