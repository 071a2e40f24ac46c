package idlewright.reference.units;

import java.math.BigDecimal;
import java.math.MathContext;

/**
 * How many masses of air burn one mass of a named fuel completely; the only way between air-fuel ratio and lambda.
 *
 * <p>Source: US DOE Alternative Fuels Data Center for petrol and ethanol; E10 by mass mixing of the two; diesel is
 * printed as 14.5 to 14.7.
 */
public record Stoichiometry(String fuel, BigDecimal ratio) {

    public static final Stoichiometry PETROL = new Stoichiometry("petrol without ethanol", new BigDecimal("14.7"));
    public static final Stoichiometry PETROL_E10 = new Stoichiometry("petrol E10", new BigDecimal("14.1"));
    public static final Stoichiometry ETHANOL = new Stoichiometry("ethanol", new BigDecimal("9.0"));
    public static final Stoichiometry DIESEL = new Stoichiometry("diesel", new BigDecimal("14.5"));

    public Stoichiometry {
        if (ratio.signum() <= 0) {
            throw new IllegalArgumentException("A stoichiometric ratio is above zero, like 14.7; not " + ratio + ".");
        }
    }

    /** Above 1 is lean. */
    public Quantity lambda(Quantity airFuelRatio) {
        BigDecimal afr = airFuelRatio.to(Unit.AFR).value();
        return new Quantity(afr.divide(ratio, MathContext.DECIMAL64), Unit.LAMBDA);
    }

    public Quantity airFuelRatio(Quantity lambda) {
        return new Quantity(lambda.to(Unit.LAMBDA).value().multiply(ratio), Unit.AFR);
    }
}
