/** What joins and ends glass. Each is drawn around its middle; `turned` for a line that runs downward. */

const EDGE = { fill: "var(--paper)", stroke: "var(--ink)", strokeWidth: 1.5 } as const;

interface Turned {
  /** The line runs downward. */
  readonly turned?: boolean;
}

const turn = (turned = false): string | undefined => (turned ? "rotate(90)" : undefined);

/** A round sleeve over two ends melted together. In a ledger it lies across the line. */
export function FusionSleeve({ turned }: Turned) {
  return (
    <g>
      <rect x={turned ? -13 : -12} y={turned ? -6.5 : -6.5} width={turned ? 26 : 24} height="13" rx="6.5" {...EDGE} />
      <path d={turned ? "M-12-0H12" : "M0-6V6"} stroke="var(--ink)" strokeWidth="1.5" />
    </g>
  );
}

/** A square sleeve that clamps two ends. */
export function MechanicalSleeve({ turned }: Turned) {
  return (
    <g transform={turn(turned)}>
      <rect x="-7" y="-13" width="14" height="26" {...EDGE} />
      <path d="M-3-12.5V12.5M0-12.5V12.5M3-12.5V12.5" stroke="var(--ink)" strokeWidth="1" />
    </g>
  );
}

/** An adapter: the glass behind on one side, what is plugged in front on the other. */
export function PortMark({ turned }: Turned) {
  return (
    <g transform={turn(turned)}>
      <rect x="-6.5" y="-11" width="13" height="22" {...EDGE} />
      <path d="M0-14V14" stroke="var(--ink)" strokeWidth="1.5" />
    </g>
  );
}

/** An adapter with nothing plugged in front: the line ends in a bar. */
export function OpenPort({ turned }: Turned) {
  return (
    <g transform={turn(turned)}>
      <rect x="-6.5" y="-11" width="13" height="22" {...EDGE} />
      <path d="M7 0H18" stroke="var(--ink)" strokeWidth="1.5" strokeDasharray="2.5 2.5" />
      <path d="M19-8V8" stroke="var(--ink)" strokeWidth="2.5" />
    </g>
  );
}

/** The bar at which a line ends. */
export function EndBar({ turned }: Turned) {
  return <path transform={turn(turned)} d="M0-9V9" stroke="var(--ink)" strokeWidth="2.5" />;
}

/** Bare glass in a tray or at a cut: the line frays. */
export function BareEnd({ turned }: Turned) {
  return (
    <path
      transform={turn(turned)}
      d="M0 0L8-6M0 0L9 0M0 0L8 6"
      stroke="var(--ink)"
      strokeWidth="1.5"
      fill="none"
      strokeLinecap="round"
    />
  );
}

/** Equipment: here the light begins or ends. */
export const InterfaceBlock = () => <rect x="-12" y="-6" width="24" height="12" fill="var(--ink)" />;

/** The line leaves for another party. */
export function HandedOver({ turned }: Turned) {
  return (
    <g transform={turn(turned)} fill="none" stroke="var(--ink)" strokeWidth="1.75">
      <path d="M-8 0H7M2-5.5 8 0 2 5.5" />
      <path d="M12-9V9" strokeDasharray="3 2.5" />
    </g>
  );
}

/** The record ends though the glass may not. */
export const RecordEnds = () => (
  <g>
    <circle r="8" fill="var(--paper)" stroke="var(--ink)" strokeWidth="1.5" strokeDasharray="2.5 2.5" />
    <path d="M-2.6-2.2a2.7 2.7 0 1 1 3.6 2.6Q0 1 0 2.1M0 4.1v1.3" fill="none" stroke="var(--ink)" strokeWidth="1.4" />
  </g>
);

/** Where one line becomes several. */
export const ForkMark = () => <rect x="-5.5" y="-5.5" width="11" height="11" fill="var(--ink)" />;

/** A splitter or filter: as built, so a fork without doubt. */
export const SplitterMark = ({ turned }: Turned) => (
  <path transform={turn(turned)} d="M-8 0 7-9V9Z" {...EDGE} strokeLinejoin="round" />
);

/** The line comes back to itself. */
export const RingMark = () => (
  <g fill="none" stroke="var(--ink)" strokeWidth="2">
    <path d="M5.5-5.8A8 8 0 1 0 8-0.6" />
    <path d="M1.6-7.2 6-5.4 4.6-10" strokeWidth="1.6" />
  </g>
);

/** The case in which splices are kept, on a sheath. */
export const ClosureMark = () => (
  <g>
    <rect x="-3" y="-14" width="6" height="7" fill="var(--ink)" />
    <rect x="-15" y="-8" width="30" height="16" rx="8" {...EDGE} />
  </g>
);

/** A splitter, cassette or filter passed inside: a join. */
export const JoinMark = ({ turned }: Turned) => (
  <g transform={turn(turned)}>
    <rect x="-8" y="-8" width="16" height="16" rx="2" {...EDGE} />
    <path d="M-8 0H8" stroke="var(--ink)" strokeWidth="1.5" strokeDasharray="3 2" />
  </g>
);

/** Turns of cable stored over `width` pixels of its own length. */
export function Coil({ width, height = 26 }: { readonly width: number; readonly height?: number }) {
  const turns = Math.max(2, Math.min(60, Math.round(width / (width > 40 ? 9 : 5))));
  const rx = Math.max(3, Math.min(8, width / turns / 1.2));
  const step = turns > 1 ? (width - 2 * rx) / (turns - 1) : 0;
  const first = turns > 1 ? -width / 2 + rx : 0;
  return (
    <g fill="none">
      {Array.from({ length: turns }, (_, index) => first + index * step).map((cx) => (
        <g key={cx}>
          <ellipse cx={cx} rx={rx} ry={height / 2} stroke="var(--paper)" strokeWidth="4" />
          <ellipse cx={cx} rx={rx} ry={height / 2} stroke="var(--ink)" strokeWidth="1.75" />
        </g>
      ))}
    </g>
  );
}

/** A sheath that was cut through. */
export const CutMark = () => (
  <g>
    <path d="M-7 0H7" stroke="var(--paper)" strokeWidth="14" />
    <path d="M-9 10-3-10M3 10 9-10" stroke="var(--ink)" strokeWidth="1.75" />
  </g>
);
