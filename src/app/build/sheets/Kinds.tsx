/** Which of several tables lies on the sheet. */
export function Kinds<Id extends string>({ of, at, kinds, onChoose }: KindsProps<Id>) {
  return (
    <fieldset className="pair kinds" aria-label={of}>
      {kinds.map(([id, words]) => (
        <button key={id} type="button" aria-pressed={id === at} onClick={() => onChoose(id)}>
          {words}
        </button>
      ))}
    </fieldset>
  );
}

interface KindsProps<Id extends string> {
  readonly of: string;
  readonly at: Id;
  readonly kinds: readonly (readonly [id: Id, words: string])[];
  readonly onChoose: (id: Id) => void;
}
