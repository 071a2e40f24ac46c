/** Diagnostic trouble codes: from bytes and typing to a code, and what it means and points to in our own words. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.codes;
