package idlewright.frame.rules;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CellsTest {

    @ParameterizedTest
    @ValueSource(strings = {"=1+1", "+cmd", "-2+3", "@SUM(A1)", "\t=1", "=HYPERLINK(\"x\")", "-"})
    void letNoSpreadsheetCalculate(String typed) {
        assertThat(Cells.safe(typed)).isEqualTo("'" + typed);
    }

    @ParameterizedTest
    @ValueSource(strings = {"-12.5", "+3", "0", "9.6", "outside", "P0171", "a=b"})
    void leaveNumbersAndWordsAlone(String typed) {
        assertThat(Cells.safe(typed)).isEqualTo(typed);
    }

    @Test
    void areEmptyForNothing() {
        assertThat(Cells.safe(null)).isEmpty();
    }
}
