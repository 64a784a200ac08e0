import { lazy, Suspense, useEffect, useState } from 'react';
import { BenchArea, type Span } from './bench/BenchArea.tsx';
import { Card } from './frame/Card.tsx';
import { Header } from './frame/Header.tsx';
import { NotKept } from './frame/NotKept.tsx';
import { Rail } from './frame/Rail.tsx';
import { Refused } from './frame/Refused.tsx';
import { Spoken } from './frame/Spoken.tsx';
import { useDrop } from './frame/useDrop.ts';
import { useKeys } from './frame/useKeys.ts';
import { awaited } from './state/atRest.ts';
import { useApp } from './state/store.ts';
import { Hatches } from './station/Spread.tsx';

const BuildSheet = lazy(() => awaited(import('./build/BuildSheet.tsx').then((m) => ({ default: m.BuildSheet }))));

/** The whole screen: the panel and its questions, the bench, the rail along the span, the card that answers. */
export function App() {
  const theme = useApp((s) => s.theme);
  const question = useApp((s) => s.question);
  const [span, setSpan] = useState<Span>(null);
  const dropping = useDrop();
  useKeys();
  useEffect(() => {
    document.documentElement.dataset.theme = theme;
  }, [theme]);
  return (
    <div className={dropping ? 'app dropping' : 'app'}>
      <Hatches />
      <Spoken />
      <Header />
      <BenchArea onSpan={setSpan} />
      <Rail span={span} />
      <Card />
      {question === 'build' && (
        <Suspense fallback={null}>
          <BuildSheet />
        </Suspense>
      )}
      <Refused />
      <NotKept />
    </div>
  );
}
