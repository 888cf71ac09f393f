import { integer, number, reference, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const interfaceKind = defineKind({
  name: "interface",
  one: "interface",
  many: "interfaces",
  group: "service",
  help: "The optic behind a device's port: what it sends and what it bears.",
  address: null,
  key: ["port_id"],
  unique: true,
  ownedBy: ["port_id"],
  fields: {
    port_id: reference("port", "port", "The device's port.", { required: true }),
    application: text("application", "What it runs, such as 10GBASE-LR.", { max: 60 }),
    transmit_position: integer("transmits on", "The position it transmits on.", { min: 1, max: 144 }),
    receive_position: integer("receives on", "The position it receives on.", { min: 1, max: 144 }),
    wavelength_nm: number("wavelength", "Wavelength it transmits.", { unit: "nm", min: 400, max: 2000 }),
    launch_min_dbm: number("least launch", "Least launch power.", { unit: "dbm", min: -60, max: 40 }),
    launch_max_dbm: number("greatest launch", "Greatest launch power.", { unit: "dbm", min: -60, max: 40 }),
    sensitivity_dbm: number("sensitivity", "Least power the receiver needs.", { unit: "dbm", min: -80, max: 40 }),
    overload_dbm: number("overload", "Greatest power the receiver bears.", { unit: "dbm", min: -60, max: 40 }),
    hazard_level: text("hazard level", "Laser hazard level, as marked.", { max: 20 }),
    ...provenance,
  },
});
