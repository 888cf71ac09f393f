/** What glass lands on and plugs into: panels, modules, devices, closures. */
import { KINDS } from "../../../core/model/dictionary.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { type Blank, defineAct } from "../act.ts";
import { evenIfTaken, field, portColumns, record, THING, thing } from "../blanks.ts";

const where = (example: string, required = false): Blank =>
  record("space", say`place`, say`Where it is; leave it empty for one in stock.`, { example, required });

const portRows = (label: string, help: string, extra: Readonly<Record<string, Blank>> = {}): Blank => ({
  as: "rows",
  one: say`group of ports`,
  label,
  help,
  columns: { ...portColumns, ...extra },
});

export const panel = defineAct("panel.enter", {
  title: say`Enter a panel`,
  sentence: say`Enter panel {tag} in {space}`,
  blanks: {
    tag: field("panel", "tag", { example: "A", required: true }),
    space: where("LIB/101"),
    rack: field("panel", "rack"),
    rack_unit: field("panel", "rack_unit"),
    height_u: field("panel", "height_u"),
    rows: field("panel", "rows"),
    model: field("panel", "kind"),
    ports: portRows("ports", say`Groups of alike ports, in order over the face.`),
    ...thing,
  },
  more: [["ports"], ["rack", "rack_unit", "height_u", "rows", "model"], [...THING]],
  button: ({ ports }) => say`Enter the panel with ${counted(ports, "port")}`,
});

export const ports = defineAct("port.enter", {
  title: say`Add ports to a panel, module or device`,
  sentence: say`On {on} put ports {numbers}`,
  blanks: {
    ...portColumns,
    on: record(["panel", "module", "device"], say`panel`, say`The panel, module or device they are on.`, {
      required: true,
      example: "LIB/101/A",
    }),
    life: field("port", "life"),
  },
  more: [["connector", "positions", "polish", "adapter_colour"], ["face_row"], ["life"]],
  button: ({ ports: made }) => say`Add ${counted(made, "port")}`,
});

export const positions = defineAct("port.add_positions", {
  title: say`Give ports their positions`,
  sentence: say`Give the ports of {on} that have none their positions`,
  blanks: {
    on: record(
      ["panel", "module", "device", "port"],
      say`panel`,
      say`The panel, module or device whose ports have none, or one port.`,
      { required: true, example: "LIB/101/A" },
    ),
    positions: {
      ...portColumns.positions,
      help: say`Fibre places of each port whose plug doesn't say: 1 simplex, 2 duplex, 8 to 24 array.`,
    },
  },
  more: [["positions"]],
  button: ({ positions: made }) => say`Add ${counted(made, "position")}`,
});

export const renumber = defineAct("panel.renumber", {
  title: say`Renumber a panel`,
  sentence: say`Renumber the ports of {panel} as {ports}`,
  blanks: {
    panel: record("panel", say`panel`, say`The panel to renumber.`, { required: true, example: "LIB/101/A" }),
    ports: {
      as: "text",
      label: say`numbers`,
      help: say`New numbers for all ports in their order, such as 25..48. Old numbers stay findable.`,
      example: "25..48",
    },
    tag: field("panel", "tag", { required: false, help: say`The panel's new tag, where it changes.` }),
  },
  more: [["tag"]],
  button: () => say`Renumber`,
});

export const device = defineAct("device.enter", {
  title: say`Enter a device`,
  sentence: say`Enter device {tag} in {space}`,
  blanks: {
    tag: field("device", "tag", { example: "SW-1", required: true }),
    space: where("LIB/101"),
    rack: field("device", "rack"),
    rack_unit: field("device", "rack_unit"),
    model: field("device", "model"),
    ports: portRows("ports", say`Groups of alike ports; optics may be left out.`, {
      application: field("interface", "application"),
      wavelength_nm: field("interface", "wavelength_nm"),
      hazard_level: field("interface", "hazard_level"),
    }),
    ...thing,
  },
  more: [["ports"], ["rack", "rack_unit", "model"], [...THING]],
  button: ({ ports }) => say`Enter the device with ${counted(ports, "port")}`,
});

export const move = defineAct("device.move", {
  title: say`Move a device`,
  sentence: say`Move {device} to {to}`,
  blanks: {
    device: record("device", say`device`, say`The device to move.`, { required: true, example: "LIB/101/SW-1" }),
    to: record("space", say`place`, say`The space it moves to.`, { required: true, example: "LIB/102" }),
    rack: field("device", "rack"),
    rack_unit: field("device", "rack_unit"),
    cords: {
      as: "rows",
      one: say`cord`,
      label: say`cords`,
      help: say`Every cord of the device, with what becomes of it.`,
      columns: {
        cord: {
          as: "text",
          required: true,
          label: say`cord`,
          help: say`Its tag, or a port it is plugged into.`,
          example: "C-118",
        },
        fate: {
          as: "choice",
          required: true,
          values: { goes_along: say`goes along`, unplugged: say`is unplugged`, repatched: say`is repatched` },
          label: say`what becomes of it`,
          help: say`It stays in the device's port; it is taken away; or its far end goes into another port.`,
        },
        to: record("port", say`into`, say`For a repatched cord: the port its far end goes into.`),
      },
    },
    even_if_taken: evenIfTaken,
  },
  more: [["cords"], ["rack", "rack_unit"], ["even_if_taken"]],
  button: ({ device: name }) => say`Move ${name}`,
  cautions: [say`Treat every end as lit: this light cannot be seen. Cap what you unplug.`],
});

export const closure = defineAct("closure.enter", {
  title: say`Enter a closure`,
  sentence: say`Enter closure {tag} in {space}`,
  blanks: {
    tag: field("closure", "tag", { example: "CL-1", required: true }),
    space: where("MH-03"),
    panel: record("panel", say`drawer of`, say`The panel it is a drawer of.`),
    kind: field("closure", "kind"),
    entries: field("closure", "entries"),
    capacity: field("closure", "capacity"),
    position: field("closure", "position"),
    trays: {
      as: "rows",
      one: say`group of trays`,
      label: say`splice trays`,
      help: say`Trays from the bottom up.`,
      columns: {
        numbers: {
          as: "text",
          required: true,
          label: say`numbers`,
          help: say`The numbers of the trays, such as T1..T6.`,
          example: "T1..T6",
        },
        capacity: field("tray", "capacity"),
      },
    },
    ...thing,
  },
  more: [["trays"], ["kind", "entries", "capacity", "position", "panel"], [...THING]],
  button: () => say`Enter the closure`,
  cautions: [
    say`Gas, water and missing air: a hole is entered by trained people after the air is tested, by the local rules for confined spaces.`,
  ],
});

export const closureLost = defineAct("closure.lost", {
  title: say`Record a wrecked splice case`,
  sentence: say`Record that {closure} was wrecked with all glass in it`,
  blanks: {
    closure: record("closure", say`splice case`, say`The case that was wrecked, by a digger, a wheel, water or fire.`, {
      required: true,
      example: "MH-03/CL-1",
    }),
  },
  button: ({ joints }) => say`Record it, ${counted(joints, "joint")} lost`,
  cautions: [say`Treat every end as lit: this light cannot be seen. Collect the shards.`],
});

const inWhat = record(
  ["panel", "space"],
  say`place`,
  say`The panel it sits in, or the space; empty for one in stock.`,
  {
    example: "LIB/101/A",
  },
);
const takes: Blank = {
  as: "choice",
  values: { cord: say`cords in front`, strand: say`strands behind` },
  label: say`take`,
  help: say`What the ports take from outside.`,
};
const moduleBlanks = {
  tag: field("module", "tag", { example: "M1", required: true }),
  in: inWhat,
  slot: field("module", "slot"),
  model: field("module", "model"),
  ...thing,
} as const;
const map: Blank = {
  as: "choice",
  required: true,
  values: { straight: say`in order`, crossed: say`pairs crossed`, reversed: say`in reverse order` },
  label: say`rear fibres come out`,
  help: say`How the fibres of each rear port, in order, come out in front.`,
};
const loss: Blank = {
  as: "decimal",
  unit: "dB",
  list: true,
  label: say`loss`,
  help: say`Loss in decibels: one value for all, or one a join or output with commas between.`,
};
const MODULE = ["slot", "model"] as const;
const words = KINDS.module.fields.kind.values;
const joined = (kind: keyof typeof words) => (answer: { readonly joins: number }) =>
  say`Enter the ${words[kind]} with ${counted(answer.joins, "join")}`;

const modulePorts = (label: string, help: string): Blank => ({ ...portRows(label, help, { takes }), required: true });
const onePort = (label: string, help: string): Blank => ({
  as: "rows",
  one: say`port`,
  single: true,
  required: true,
  label,
  help,
  columns: { ...portColumns, takes },
});

export const cassette = defineAct("module.enter", {
  name: "module.enter.cassette",
  title: say`Enter a cassette`,
  sentence: say`Enter cassette {tag} in {in}`,
  fixed: { kind: "cassette" },
  blanks: {
    ...moduleBlanks,
    rear: modulePorts(say`rear ports`, say`The rear ports, often arrays.`),
    front: modulePorts(say`front ports`, say`The front ports.`),
    map,
    loss_db: loss,
  },
  more: [["rear"], ["front"], ["map", "loss_db"], [...MODULE], [...THING]],
  button: joined("cassette"),
});

export const harness = defineAct("module.enter", {
  name: "module.enter.harness",
  title: say`Enter a harness`,
  sentence: say`Enter harness {tag} in {in}`,
  fixed: { kind: "harness" },
  blanks: {
    ...moduleBlanks,
    rear: modulePorts(say`array ends`, say`The array ends.`),
    front: modulePorts(say`single ends`, say`The ends it fans out to.`),
    map,
    loss_db: loss,
  },
  more: [["rear"], ["front"], ["map", "loss_db"], [...MODULE], [...THING]],
  button: joined("harness"),
});

export const splitter = defineAct("module.enter", {
  name: "module.enter.splitter",
  title: say`Enter a splitter`,
  sentence: say`Enter splitter {tag} in {in}`,
  fixed: { kind: "splitter" },
  blanks: {
    ...moduleBlanks,
    inputs: modulePorts("inputs", say`One input, or two for a splitter with a standby feed.`),
    outputs: modulePorts("outputs", say`The outputs.`),
    loss_db: loss,
  },
  more: [["inputs"], ["outputs"], ["loss_db"], [...MODULE], [...THING]],
  button: joined("splitter"),
});

export const filter = defineAct("module.enter", {
  name: "module.enter.filter",
  title: say`Enter a wavelength filter`,
  sentence: say`Enter wavelength filter {tag} in {in}`,
  fixed: { kind: "filter" },
  blanks: {
    ...moduleBlanks,
    common: onePort(say`common port`, say`The port that carries all bands.`),
    channels: {
      as: "rows",
      one: say`channel`,
      required: true,
      label: say`channels`,
      help: say`One port for each band.`,
      columns: {
        ...portColumns,
        takes,
        band: {
          as: "text",
          required: true,
          label: say`band, nm`,
          help: say`Wavelengths in nanometres: 1310 or 1530-1565.`,
          example: "1530-1565",
        },
        loss_db: { as: "decimal", unit: "dB", label: say`loss`, help: say`What this channel loses, in decibels.` },
      },
    },
  },
  more: [["common"], ["channels"], [...MODULE], [...THING]],
  button: joined("filter"),
});

export const attenuator = defineAct("module.enter", {
  name: "module.enter.attenuator",
  title: say`Enter an attenuator`,
  sentence: say`Enter attenuator {tag} in {in}`,
  fixed: { kind: "attenuator" },
  blanks: {
    ...moduleBlanks,
    input: onePort(say`one port`, say`The port at one end.`),
    output: onePort(say`other port`, say`The port at the other end.`),
    loss_db: { ...loss, list: false, required: true, help: say`What it takes away, in decibels.` },
  },
  more: [["input"], ["output"], ["loss_db"], [...MODULE], [...THING]],
  button: joined("attenuator"),
});
