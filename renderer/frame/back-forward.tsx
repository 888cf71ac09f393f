/** Back and forward among the questions asked. */

import { say } from "../../core/words/say.ts";
import { useRoute } from "./router.ts";

/** Newer browsers know whether there is anything to go to; in others the buttons stay as they are. */
interface Navigates {
  readonly navigation?: { readonly canGoBack: boolean; readonly canGoForward: boolean };
}

export function BackForward() {
  useRoute();
  const { navigation } = window as Navigates;
  return (
    <div className="back-forward">
      <button
        type="button"
        aria-label={say`Back to the question before`}
        title={say`Back (Alt+Left)`}
        disabled={navigation ? !navigation.canGoBack : false}
        onClick={() => history.back()}
      >
        <svg width="9" height="14" aria-hidden="true">
          <path d="M7.5 1.5 2 7l5.5 5.5" fill="none" stroke="currentColor" strokeWidth="1.75" />
        </svg>
      </button>
      <button
        type="button"
        aria-label={say`Forward to the question after`}
        title={say`Forward (Alt+Right)`}
        disabled={navigation ? !navigation.canGoForward : false}
        onClick={() => history.forward()}
      >
        <svg width="9" height="14" aria-hidden="true">
          <path d="M1.5 1.5 7 7l-5.5 5.5" fill="none" stroke="currentColor" strokeWidth="1.75" />
        </svg>
      </button>
    </div>
  );
}
