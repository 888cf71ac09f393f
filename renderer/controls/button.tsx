/** A button says the act and its size: "Write 329 rows". At most one filled in a view. */
import type { ReactNode, Ref } from "react";

export interface ButtonProps {
  readonly children: ReactNode;
  readonly onClick?: () => void;
  readonly filled?: boolean;
  readonly submit?: boolean;
  readonly disabled?: boolean;
  /** The word shown while the act runs: the button says it and can't be pressed twice. */
  readonly busy?: string | null;
  readonly title?: string;
  readonly label?: string;
  readonly ref?: Ref<HTMLButtonElement>;
}

export function Button({ children, onClick, filled, submit, disabled, busy, title, label, ref }: ButtonProps) {
  return (
    <button
      ref={ref}
      type={submit ? "submit" : "button"}
      className={filled ? "button filled" : "button"}
      onClick={(event) => {
        // It keeps the focus while it runs; a form isn't sent by it a second time either.
        if (busy) event.preventDefault();
        else onClick?.();
      }}
      disabled={disabled && !busy}
      {...(busy ? { "aria-disabled": true } : {})}
      title={title}
      aria-label={label}
    >
      {busy || children}
    </button>
  );
}
