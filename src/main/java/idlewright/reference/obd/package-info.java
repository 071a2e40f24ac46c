/** Answers of the vehicle's diagnostic link (SAE J1979 / ISO 15031-5) turned into values, codes and readiness. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.obd;
