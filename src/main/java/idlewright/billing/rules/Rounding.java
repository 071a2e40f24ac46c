package idlewright.billing.rules;

/** On what the tax is rounded to the smallest coin. */
public enum Rounding {
    /** Once on the sum of each rate, so that coins do not creep. */
    INVOICE,
    /** On every line. */
    LINE
}
