package idlewright.repair.rules;

import idlewright.reference.money.Money;
import org.jspecify.annotations.Nullable;

/**
 * The part that went in, as it is printed on it.
 *
 * @param what what kind of part it is: "air-flow sensor"
 * @param serial serial or lot
 * @param cost what the shop paid; null where it is not known yet
 */
public record FittedPart(
        String what,
        String number,
        String maker,
        @Nullable String serial,
        String supplier,
        @Nullable Money cost) {}
