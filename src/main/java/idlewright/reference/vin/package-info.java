/** What a vehicle identification number says by itself: form, check digit, model year, region. */
@org.jspecify.annotations.NullMarked
package idlewright.reference.vin;
