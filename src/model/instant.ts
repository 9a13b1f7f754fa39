/** A moment in UTC to the second, `2026-11-25T10:00:00Z`. Strings of this form sort as the moments do. */
export type Instant = string;
