package idlewright.warranty.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.reference.money.Money;
import idlewright.warranty.rules.Coverage.Odometer;
import java.math.BigDecimal;
import java.time.LocalDate;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("Emissions terms and the example of a share")
class EmissionsTest {

    @Test
    @DisplayName(
            "are 8 years or 80,000 miles for three parts and 2 years or 24,000 for the rest from 1995 on (from memory)")
    void areLongerForThreeParts() {
        assertThat(Emissions.of(1995))
                .extracting(term -> term.promise().words())
                .containsExactly(
                        "96 months or 80,000 mi, whichever comes first",
                        "24 months or 24,000 mi, whichever comes first");
        assertThat(Emissions.of(2014))
                .allSatisfy(term -> assertThat(term.source()).contains("from memory", "check"));
    }

    @Test
    @DisplayName("are 5 years or 50,000 miles on defects before 1995 (GAO report B-236148)")
    void areOthersBefore1995() {
        assertThat(Emissions.of(1994))
                .extracting(term -> term.promise().words())
                .containsExactly(
                        "60 months or 50,000 mi, whichever comes first",
                        "24 months or 24,000 mi, whichever comes first");
    }

    @Test
    void endByTheOdometerInKilometresToo() {
        Promise three = Emissions.of(2020).get(0).promise();
        LocalDate began = LocalDate.of(2020, 2, 29);
        var zero = new Odometer(BigDecimal.ZERO, "mi");
        // 80,000 mi are 128,747.52 km (1 mi = 1.609344 km, NIST SP 811, B.8).
        assertThat(Coverage.of(three, began, zero, began, new Odometer(new BigDecimal("128747"), "km"))
                        .covered())
                .isTrue();
        assertThat(Coverage.of(three, began, zero, began, new Odometer(new BigDecimal("128748"), "km"))
                        .covered())
                .isFalse();
        assertThat(Coverage.of(three, began, zero, LocalDate.of(2028, 2, 29), zero)
                        .covered())
                .isTrue();
        assertThat(Coverage.of(three, began, zero, LocalDate.of(2028, 3, 1), zero)
                        .covered())
                .isFalse();
    }

    @Test
    void workTheShareThroughWithFigures() {
        var falling = new Promise(12, new BigDecimal("20000"), "km", true);
        assertThat(Example.of(falling, Money.of("200.00", "EUR"), LocalDate.of(2026, 1, 1)))
                .isEqualTo(
                        "Of 200.00 that fail after 182 days and 8,000 km the promise bears 51 %, 102.00: the time or the"
                                + " distance, whichever is further gone.");
        assertThat(Example.of(new Promise(12, null, "km"), Money.of("200.00", "EUR"), LocalDate.of(2026, 1, 1)))
                .isEqualTo(
                        "Of 200.00 that fail after 182 days the promise bears all; by share it would be 51 %, 102.00.");
        assertThat(Example.of(new Promise(0, null, "km"), Money.of("200.00", "EUR"), LocalDate.of(2026, 1, 1)))
                .isEqualTo("Nothing is promised.");
    }

    @Test
    void letACoreBeCreditedOnlyAfterItsChargeIsKnown() {
        assertThat(CoreStep.CREDITED.mayFollow(java.util.List.of(CoreStep.RETURNED)))
                .isFalse();
        assertThat(CoreStep.CREDITED.mayFollow(java.util.List.of(CoreStep.CHARGED)))
                .isTrue();
        assertThat(CoreStep.RETURNED.mayFollow(java.util.List.of(CoreStep.WRITTEN_OFF)))
                .isFalse();
    }
}
