/** The statistics a shop needs for small numbers: shares, survival, tolerance, robust centre and line. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.stats;
