/** SQL for where a port is: in the room of its panel, module or device. `port` is the port's alias. */
export const roomJoins = (port: string): string => `
  left join panel pa on pa.id = ${port}.panel_id left join module m on m.id = ${port}.module_id
  left join panel mp on mp.id = m.panel_id left join device d on d.id = ${port}.device_id`;
export const ROOM = "coalesce(pa.space_id, m.space_id, mp.space_id, d.space_id)";
/** The same for a port called `p`. */
export const ROOM_JOINS = roomJoins("p");
