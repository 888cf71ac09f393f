/** SQL for where a port `p` is: in the room of its panel, module or device. */
export const ROOM_JOINS = `left join panel pa on pa.id = p.panel_id left join module m on m.id = p.module_id
  left join panel mp on mp.id = m.panel_id left join device d on d.id = p.device_id`;
export const ROOM = "coalesce(pa.space_id, m.space_id, mp.space_id, d.space_id)";
