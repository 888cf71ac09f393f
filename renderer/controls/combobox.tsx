/**
 * A text field with a list of what fits, after the ARIA combobox pattern with list autocompletion: the focus stays in the
 * field, arrows move through the list, Enter takes the marked one, Escape leaves. The first is marked at once, and an
 * Enter pressed before the list has come is kept until it has.
 */
import { type KeyboardEvent, type ReactNode, type Ref, useEffect, useId, useRef, useState } from "react";
import { say } from "../../core/words/say.ts";

export interface Option {
  /** Unique in the list. */
  readonly key: string;
  readonly show: ReactNode;
  /** Heading above it, written once for neighbours of the same. */
  readonly group?: string;
}

export interface ComboboxProps<O extends Option> {
  readonly label: string;
  readonly text: string;
  readonly onText: (text: string) => void;
  readonly options: readonly O[];
  /** The options belong to an earlier text; others are on their way. */
  readonly pending?: boolean;
  readonly onChoose: (option: O, how: { readonly ctrl: boolean }) => void;
  readonly onLeave?: () => void;
  /** The list is on screen. */
  readonly open: boolean;
  readonly placeholder?: string;
  /** What stands in the list when nothing fits. */
  readonly nothing?: ReactNode;
  /** Under the list. */
  readonly hint?: ReactNode;
  readonly inputRef?: Ref<HTMLInputElement>;
  readonly className?: string;
  readonly mark?: string;
  /** Beside the field, such as its key. */
  readonly beside?: ReactNode;
  readonly onFocus?: () => void;
  readonly onBlur?: () => void;
  /** Enter with a text that no option stands for. */
  readonly onTextTaken?: (text: string) => void;
}

export function Combobox<O extends Option>(props: ComboboxProps<O>) {
  const { label, text, options, open, pending = false, onChoose, onText, onTextTaken } = props;
  const id = useId();
  const [mark, setMark] = useState({ keys: "", at: 0 });
  const [taking, setTaking] = useState<{ ctrl: boolean } | null>(null);
  const list = useRef<HTMLDivElement>(null);
  const keys = options.map((option) => option.key).join("\n");
  // Another list is marked from its first.
  const marked = mark.keys === keys ? Math.min(mark.at, options.length - 1) : 0;
  const setAt = (at: number): void => setMark({ keys, at });

  useEffect(() => {
    list.current?.querySelector('[aria-selected="true"]')?.scrollIntoView({ block: "nearest" });
  });

  useEffect(() => {
    const first = options[0];
    if (!taking || pending) return;
    setTaking(null);
    if (first) onChoose(first, taking);
    else onTextTaken?.(text);
  }, [taking, pending, options, onChoose, onTextTaken, text]);

  const onKeyDown = (event: KeyboardEvent): void => {
    const step = { ArrowDown: 1, ArrowUp: -1, PageDown: 8, PageUp: -8 }[event.key];
    if (step !== undefined && options.length > 0) {
      event.preventDefault();
      const wrap = Math.abs(step) === 1;
      const next = marked + step;
      setAt(wrap ? (next + options.length) % options.length : Math.max(0, Math.min(options.length - 1, next)));
    } else if (event.key === "Enter" && open) {
      event.preventDefault();
      const how = { ctrl: event.ctrlKey || event.metaKey };
      const option = options[marked];
      if (pending) setTaking(how);
      else if (option) onChoose(option, how);
      else onTextTaken?.(text);
    } else if (event.key === "Escape") {
      event.preventDefault();
      event.stopPropagation();
      props.onLeave?.();
    }
  };

  let group: string | undefined;
  return (
    <div className={`combobox ${props.className ?? ""}`} aria-busy={taking !== null}>
      <div className="combobox-field">
        <input
          ref={props.inputRef}
          type="text"
          role="combobox"
          aria-label={label}
          aria-expanded={open}
          aria-controls={`${id}-list`}
          aria-autocomplete="list"
          aria-activedescendant={open && options[marked] ? `${id}-${marked}` : undefined}
          autoComplete="off"
          autoCapitalize="off"
          spellCheck={false}
          value={text}
          placeholder={props.placeholder}
          {...(props.mark ? { [props.mark]: true } : {})}
          onChange={(event) => {
            setTaking(null);
            onText(event.target.value);
          }}
          onKeyDown={onKeyDown}
          onFocus={props.onFocus}
          onBlur={props.onBlur}
        />
        {props.beside}
      </div>
      <div className="combobox-pop" hidden={!open}>
        <div className="combobox-list" role="listbox" id={`${id}-list`} aria-label={label} ref={list} tabIndex={-1}>
          {options.map((option, index) => {
            const heading = option.group !== group ? option.group : undefined;
            group = option.group;
            return (
              <div key={option.key} role="presentation">
                {heading ? (
                  <div className="combobox-group" role="presentation">
                    {heading}
                  </div>
                ) : null}
                <div
                  id={`${id}-${index}`}
                  role="option"
                  tabIndex={-1}
                  aria-selected={index === marked}
                  className="combobox-option"
                  onPointerMove={() => setAt(index)}
                  // The field keeps the focus while the list is pressed.
                  onPointerDown={(event) => event.preventDefault()}
                  onPointerUp={(event) => {
                    if (event.button === 0) onChoose(option, { ctrl: event.ctrlKey || event.metaKey });
                  }}
                >
                  {option.show}
                </div>
              </div>
            );
          })}
        </div>
        {options.length === 0 && !pending && props.nothing ? <p className="combobox-nothing">{props.nothing}</p> : null}
        {props.hint ? <p className="combobox-hint">{props.hint}</p> : null}
      </div>
      <span className="hush" role="status">
        {open && !pending ? (options.length === 0 ? say`Nothing fits` : say`${options.length} fit`) : ""}
      </span>
    </div>
  );
}
