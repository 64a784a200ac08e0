import { useApp } from './store.ts';

/** Who ticked last, so that initials are asked once. */
export function lastInitials(): string {
  return useApp.getState().model.ticks?.at(-1)?.by ?? '';
}
