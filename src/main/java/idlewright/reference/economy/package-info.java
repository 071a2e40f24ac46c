/** Fuel economy: tank to tank, before against after, and the estimate from mass airflow. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.economy;
