// A bar's name as part of a key.
export const tidy = (name: string) => name.replaceAll(/[^\p{L}\p{N}]+/gu, "_");
