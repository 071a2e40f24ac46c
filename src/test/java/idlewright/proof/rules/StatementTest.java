package idlewright.proof.rules;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("A proof")
class StatementTest {

    @Test
    void standsWithCodesClearedMonitorsReadyAndTheRoadDriven() {
        assertThat(said(Codes.RECORDED_CLEARED, "", Monitors.READY, "", RoadTest.GONE, "")
                        .against(true, "P0171"))
                .isEmpty();
    }

    @Test
    void isRefusedWithCodesThatNobodyWroteDown() {
        assertThat(said(Codes.NOT_RECORDED, "", Monitors.READY, "", RoadTest.GONE, "")
                        .against(true, ""))
                .containsOnlyKeys("codes");
    }

    @Test
    void isRefusedWhenCodesWereRecordedAndAreSaidNeverToHaveBeen() {
        assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.GONE, "")
                        .against(true, "P0171")
                        .get("codes"))
                .isEqualTo("P0171 was recorded before the repair: say whether it was cleared.");
    }

    @Test
    void namesTheCodesThatNoTestHolds() {
        assertThat(said(Codes.RECORDED_CLEARED, "", Monitors.READY, "", RoadTest.GONE, "")
                        .against(true, ""))
                .containsOnlyKeys("codesNote");
    }

    @Test
    void namesTheMonitorsThatAreNotReady() {
        assertThat(said(Codes.NONE_STORED, "", Monitors.SOME_NOT_READY, "", RoadTest.GONE, "")
                        .against(true, ""))
                .containsOnlyKeys("monitorsNote");
    }

    @Test
    void isNotHadWithTheComplaintStillThere() {
        for (RoadTest road : new RoadTest[] {RoadTest.SAME, RoadTest.WORSE}) {
            assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", road, "").against(true, ""))
                    .containsOnlyKeys("roadTest");
        }
    }

    @Test
    void mayLeaveTheRoadOutOnlyWithAMeasurementAndAReason() {
        var still = said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.NOT_DRIVEN, "");
        assertThat(still.against(true, "")).containsOnlyKeys("roadTestNote");
        assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.NOT_DRIVEN, "no plates")
                        .against(true, ""))
                .isEmpty();
        assertThat(still.against(false, "")).containsOnlyKeys("roadTest");
    }

    @Test
    void byRoadTestAloneNeedsTheComplaintGone() {
        assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.BETTER, "rare now")
                        .against(false, ""))
                .containsOnlyKeys("roadTest");
        assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.BETTER, "rare now")
                        .against(true, ""))
                .isEmpty();
    }

    private static Statement said(
            Codes codes, String codesNote, Monitors monitors, String monitorsNote, RoadTest road, String roadNote) {
        return new Statement(codes, codesNote, monitors, monitorsNote, road, roadNote, "");
    }
}
