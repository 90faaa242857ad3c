import { openPost } from "@/app/_server/openInterface/openRoute";
import { postReceipt } from "@/app/_server/openInterface/operations";
import { bookReceipt } from "@/app/_server/openInterface/views";

export const POST = openPost(postReceipt, (receipt, context) =>
  bookReceipt(receipt, context.params.code ?? "", context.idempotencyKey, context),
);
