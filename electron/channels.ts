/** The names of Electron's channels. The preload closes over them; the page never names one. */
export const CHANNELS = {
  call: "strandbook:call",
  stop: "strandbook:stop",
  paper: "strandbook:paper",
  kept: "strandbook:kept",
  keep: "strandbook:keep",
  chooseFile: "strandbook:choose-file",
  chooseFolder: "strandbook:choose-folder",
  reveal: "strandbook:reveal",
  print: "strandbook:print",
  theme: "strandbook:theme",
  openPlant: "strandbook:open-plant",
} as const;
export type ChannelName = keyof typeof CHANNELS;

/** From the program to the page. */
export const EVENT_CHANNEL = "strandbook:event";
