import './styles.css';
import './widgets/pressed.css';
import './widgets/drawn.css';
import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import { loadAnswers } from './frame/useAnswer.ts';
import { keepFocus } from './keeping/focusKept.ts';
import { startKeeping } from './keeping/keeping.ts';
import { awaited, sayWhenAtRest } from './state/atRest.ts';
import { useApp } from './state/store.ts';
import { keepPlans } from './workers/plansKept.ts';

/** Follows the screen's light or dark, opens what was kept, or the first panel, and draws. */
async function start(): Promise<void> {
  const { set } = useApp.getState();
  const dark = matchMedia('(prefers-color-scheme: dark)');
  set({ theme: dark.matches ? 'dark' : 'light' });
  dark.addEventListener('change', () => set({ theme: dark.matches ? 'dark' : 'light' }));
  await startKeeping();
  void keepPlans();
  keepFocus();
  const place = document.getElementById('app');
  if (place) createRoot(place).render(<App />);
}

/**
 * Lets the browser keep the app's own files, so that it opens with the network off; a browser that will not is none
 * the worse.
 */
function keepOffline(): void {
  if (import.meta.env.MODE === 'production' && 'serviceWorker' in navigator)
    void navigator.serviceWorker.register('./sw.js').catch(() => undefined);
}

/** Loads what the other questions need, once the first screen is drawn. */
async function loadTheRest(): Promise<void> {
  await new Promise((done) => setTimeout(done, 300));
  await loadAnswers();
}

sayWhenAtRest();
void awaited(
  start().then(() => {
    keepOffline();
    return loadTheRest();
  }),
);
