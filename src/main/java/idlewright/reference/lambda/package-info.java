/** Air-fuel mixture: fuels and their stoichiometry, lambda, and the narrow-band oxygen sensor. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.lambda;
