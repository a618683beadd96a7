declare const unit: unique symbol;

/** A value of type T that carries the unit U, so that seconds are never taken for beats. */
export type Brand<T, U extends string> = T & { readonly [unit]: U };
