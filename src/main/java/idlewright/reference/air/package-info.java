/** Airflow, load and filling of a piston engine, and the air they stand in. Calculates; never reads a vehicle. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.air;
