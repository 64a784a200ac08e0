/** What is wrong with what was typed; else what it was understood to be. */
export function Said({ fault, otherwise = '' }: { fault: string; otherwise?: string }) {
  return (
    <output className={fault ? 'refused' : 'small'} role={fault ? 'alert' : undefined}>
      {fault || otherwise}
    </output>
  );
}
