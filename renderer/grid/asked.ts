/** Acts on the table that ask for more, in a dialog of their own, before they are done. */
export type Asked = "set_field" | "replace" | "write_file" | "columns" | "views" | "add_many";
