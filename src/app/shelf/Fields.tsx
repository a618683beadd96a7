/** A name that is kept as it is typed, letter by letter. */
interface Props {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly hint?: string;
  readonly onType: (value: string) => void;
}

export const Name = ({ name, label, value, hint = '', onType }: Props) => (
  <input
    type="text"
    class="name"
    name={name}
    aria-label={label}
    value={value}
    placeholder={hint}
    maxLength={200}
    autocomplete="off"
    spellcheck={false}
    data-types="space"
    size={Math.max(4, value.length, hint.length)}
    onInput={(event) => onType(event.currentTarget.value)}
  />
);

/** A word that does something: a button drawn as text. */
export const Word = ({
  words,
  label,
  onPress,
}: {
  readonly words: string;
  readonly label?: string;
  readonly onPress: () => void;
}) => (
  <button type="button" class="do" aria-label={label} onClick={onPress}>
    {words}
  </button>
);
