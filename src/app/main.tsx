import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import { FIRST_PANEL } from './demos.ts';
import { keepText, keptText } from './keep.ts';
import { currentText, useApp } from './store.ts';
import './styles.css';

/** Opens what was kept, or the first panel; then keeps every change as it is made. */
async function start(): Promise<void> {
  const { open, set } = useApp.getState();
  const dark = matchMedia('(prefers-color-scheme: dark)');
  set({ theme: dark.matches ? 'dark' : 'light' });
  dark.addEventListener('change', () => set({ theme: dark.matches ? 'dark' : 'light' }));
  const kept = await keptText();
  const refused = kept !== undefined && !open(kept, 'the panel kept in this browser') ? useApp.getState().refusal : null;
  if (!useApp.getState().model) {
    open(FIRST_PANEL, 'narrow-tail.json');
    if (refused) set({ refusal: refused });
  }
  let shown = useApp.getState().model;
  useApp.subscribe(({ model }) => {
    if (model === shown) return;
    shown = model;
    void keepText(currentText()).then((ok) => set({ saving: ok ? 'saved' : 'failed' }));
  });
  createRoot(document.getElementById('app')!).render(<App />);
}

/** Lets the browser keep the app's own files, so that it opens with the network off; a browser that will not is none the worse. */
function keepOffline(): void {
  if (import.meta.env.MODE === 'production' && 'serviceWorker' in navigator) void navigator.serviceWorker.register('./sw.js').catch(() => undefined);
}

void start().then(keepOffline);
