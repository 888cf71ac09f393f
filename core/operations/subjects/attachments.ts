/** Photos and files kept with a record. */
import { z } from "zod";
import { attachedTo, contentOf, readFile, subjectOf } from "../../attachments/attach.ts";
import { toBase64 } from "../../attachments/base64.ts";
import { sniff } from "../../attachments/sniff.ts";
import { kindOf } from "../../model/dictionary.ts";
import { shownDay } from "../../model/wording.ts";
import { refuse } from "../../result.ts";
import type { Plan } from "../../store/plan.ts";
import { say } from "../../words/say.ts";
import { defineRead, defineWrite } from "../define.ts";
import { kindInput } from "./records.ts";

const of = z
  .union([
    z.string().trim().min(1, say`is empty`).max(400, say`is longer than 400 characters`),
    z.strictObject({ kind: kindInput, id: z.int().min(1) }),
  ])
  .describe(say`The record it belongs to: an address such as MH-03 or F-012, or a kind and id.`);

const day = z.iso.date(say`must be a day, written YYYY-MM-DD`).nullable().optional();

export const attachmentAdd = defineWrite({
  name: "attachment.add",
  help: say`Keeps a photo or file with a record, inside the plant file and once however often it is kept: at most 20 MB, a picture only if its content is one.`,
  input: z.strictObject({
    of,
    file: z.string().trim().min(1).max(4000).optional().describe(say`The file's path on this machine.`),
    content: z
      .string()
      .max(29_000_000)
      .optional()
      .describe(say`Its bytes as base 64, where it was dropped on the window.`),
    name: z.string().max(400).optional().describe(say`Its name, where its bytes are given.`),
    caption: z.string().max(4000).optional().describe(say`What it shows.`),
    taken_on: day.describe(say`The day it was taken; by the camera's own word where left out, null for not known.`),
    taken_by: z.string().max(80).nullable().optional().describe(say`Who took it.`),
  }),
  plan: async (
    { reader, folders, newIds, today },
    { of: asked, caption, taken_on, taken_by, ...given },
  ): Promise<Plan<{ id: number; hash: string; taken_on: string | null }>> => {
    const subject = await subjectOf(reader, asked);
    const file = await readFile(folders, given);
    const already = (await attachedTo(reader, subject)).find(({ hash }) => hash === file.hash);
    if (already)
      refuse("duplicate", say`${file.name} is kept with ${subject.tag} already.`, [
        { record: subject.tag, field: "content", reason: say`is the same as that of ${already.name}` },
      ]);
    // A camera whose clock runs ahead knows no day.
    const camera = file.taken_on !== null && file.taken_on <= today ? file.taken_on : null;
    const notices =
      file.taken_on !== null && camera === null
        ? [
            say`The camera says it took ${file.name} on ${shownDay(file.taken_on)}, which is still to come: that day is not taken over.`,
          ]
        : [];
    const on = taken_on === undefined ? camera : taken_on;
    const id = await newIds("attachment", 1);
    return {
      summary: say`Keep ${file.name} with ${kindOf(subject.kind).one} ${subject.tag}`.slice(0, 400),
      changes: [
        {
          ...{ op: "insert", kind: "attachment", id },
          values: {
            ...{ subject_kind: subject.kind, subject_id: subject.id, name: file.name, media_type: file.media_type },
            ...{ content_hash: file.hash, bytes: file.bytes.length, taken_on: on, taken_by: taken_by ?? null },
            notes: caption ?? null,
          },
        },
      ],
      contents: [{ hash: file.hash, bytes: file.bytes }],
      answer: { id, hash: file.hash, taken_on: on },
      notices,
    };
  },
});

export const attachmentList = defineRead({
  name: "attachment.list",
  help: say`The photos and files kept with a record, in the order in which they were taken.`,
  input: z.strictObject({ of }),
  run: async ({ reader }, asked) => {
    const record = await subjectOf(reader, asked.of);
    return { record, attached: await attachedTo(reader, record) };
  },
});

export const attachmentContent = defineRead({
  name: "attachment.content",
  help: say`The bytes of a kept file as base 64, held against its SHA-256, and whether it is a picture that can be shown.`,
  input: z.strictObject({ id: z.int().min(1) }),
  run: async ({ reader }, { id }) => {
    const { name, bytes } = await contentOf(reader, id);
    const { media_type, picture, fault } = sniff(bytes);
    // By its bytes again: a record that came by tables may say anything.
    return { name, media_type, picture: picture && fault === null, content: toBase64(bytes) };
  },
});
