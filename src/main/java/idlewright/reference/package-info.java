/**
 * What the trade knows before any car arrives: units, money, codes, decoding and figures. Pure Java; every later room
 * may look here.
 */
@org.springframework.modulith.ApplicationModule(
        type = org.springframework.modulith.ApplicationModule.Type.OPEN,
        allowedDependencies = {})
package idlewright.reference;
