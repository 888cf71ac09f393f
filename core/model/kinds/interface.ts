import { say } from "../../words/say.ts";
import { integer, number, reference, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const interfaceKind = defineKind({
  name: "interface",
  one: say`interface`,
  many: say`interfaces`,
  group: "service",
  help: say`The optic behind a device's port: what it sends and what it bears.`,
  address: null,
  key: ["port_id"],
  unique: true,
  ownedBy: ["port_id"],
  fields: {
    port_id: reference("port", say`port`, say`The device's port.`, { required: true }),
    application: text(say`application`, say`What it runs, such as 10GBASE-LR.`, { max: 60 }),
    transmit_position: integer(say`transmits on`, say`The position it transmits on.`, { min: 1, max: 144 }),
    receive_position: integer(say`receives on`, say`The position it receives on.`, { min: 1, max: 144 }),
    wavelength_nm: number(say`wavelength`, say`Wavelength it transmits.`, { unit: "nm", min: 400, max: 2000 }),
    launch_min_dbm: number(say`least launch`, say`Least launch power.`, { unit: "dbm", min: -60, max: 40 }),
    launch_max_dbm: number(say`greatest launch`, say`Greatest launch power.`, { unit: "dbm", min: -60, max: 40 }),
    sensitivity_dbm: number(say`sensitivity`, say`Least power the receiver needs.`, { unit: "dbm", min: -80, max: 40 }),
    overload_dbm: number(say`overload`, say`Greatest power the receiver bears.`, { unit: "dbm", min: -60, max: 40 }),
    hazard_level: text(say`hazard level`, say`Laser hazard level, as marked.`, { max: 20 }),
    ...provenance,
  },
});
