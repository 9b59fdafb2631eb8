/** A drop-off, or what came from stock: where the material of a batch came from. */
export interface SourceInput {
  readonly batchId: string;
  /** Id of a drop-off; of stock, "stock:" and the code of the material. */
  readonly sourceId: string;
  readonly massG: number;
}

/** Overs or a whole batch that went from one batch into another. */
export interface BatchLink {
  readonly fromBatchId: string;
  readonly toBatchId: string;
  readonly massG: number;
}

/**
 * All that is needed to say of what a batch is made: the inputs from outside and the links among the batches that lead into
 * it. Water is no source: what a gardener asks is what a kilogram of compost was made from.
 */
export interface BatchWeb<L extends BatchLink = BatchLink> {
  readonly inputs: readonly SourceInput[];
  readonly links: readonly L[];
}
