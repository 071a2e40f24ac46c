/** Units of measurement with exact factors, quantities that never travel without their unit, and what people type. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.units;
