package idlewright.intake.rules;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class EngineFamiliesTest {
    private static final List<String> KNOWN = List.of("BW22", "HD-20");

    @ParameterizedTest
    @ValueSource(strings = {"BW-22", "bw 22", "BW.22", "Bw_22", "BW\u201122"})
    void knowsAFamilyWrittenAnotherWay(String typed) {
        assertThat(EngineFamilies.nearly(typed, KNOWN)).contains("BW22");
    }

    @Test
    void saysNothingAboutAKnownOrAnotherFamily() {
        assertThat(EngineFamilies.nearly(" bw22 ", KNOWN)).isEmpty();
        assertThat(EngineFamilies.nearly("hd-20", KNOWN)).isEmpty();
        assertThat(EngineFamilies.nearly("BW22T", KNOWN)).isEmpty();
        assertThat(EngineFamilies.nearly("BW22", List.of("BW-22", "BW22"))).isEmpty();
    }
}
