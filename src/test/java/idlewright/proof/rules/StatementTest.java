package idlewright.proof.rules;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("A proof")
class StatementTest {

    @Test
    void standsWithCodesClearedMonitorsReadyAndTheRoadDriven() {
        assertThat(said(Codes.RECORDED_CLEARED, "", Monitors.READY, "", RoadTest.GONE, "")
                        .against(true, "P0171 stored", null))
                .isEmpty();
    }

    @Test
    void isRefusedWithCodesThatNobodyWroteDown() {
        assertThat(said(Codes.NOT_RECORDED, "", Monitors.READY, "", RoadTest.GONE, "")
                        .against(true, "", null))
                .containsOnlyKeys("codes");
    }

    @Test
    void isRefusedWhenCodesWereRecordedAndAreSaidNeverToHaveBeen() {
        assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.GONE, "")
                        .against(true, "P0171 stored", null)
                        .get("codes"))
                .isEqualTo("Recorded before the repair: P0171 stored. Say whether it was cleared.");
    }

    @Test
    void namesTheCodesThatNoTestHolds() {
        assertThat(said(Codes.RECORDED_CLEARED, "", Monitors.READY, "", RoadTest.GONE, "")
                        .against(true, "", null))
                .containsOnlyKeys("codesNote");
    }

    @Test
    void namesTheMonitorsThatAreNotReady() {
        assertThat(said(Codes.NONE_STORED, "", Monitors.SOME_NOT_READY, "", RoadTest.GONE, "")
                        .against(true, "", null))
                .containsOnlyKeys("monitorsNote");
    }

    @Test
    void doesNotCallMonitorsReadyThatWereReadAsNotReady() {
        var said = said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.GONE, "");
        assertThat(said.against(true, "", Monitors.SOME_NOT_READY)).containsOnlyKeys("monitors");
        assertThat(said.against(true, "", Monitors.READY)).isEmpty();
        assertThat(said(Codes.NONE_STORED, "", Monitors.SOME_NOT_READY, "catalyst", RoadTest.GONE, "")
                        .against(true, "", Monitors.SOME_NOT_READY))
                .isEmpty();
    }

    @Test
    void isNotHadWithTheComplaintStillThere() {
        for (RoadTest road : new RoadTest[] {RoadTest.SAME, RoadTest.WORSE}) {
            assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", road, "").against(true, "", null))
                    .containsOnlyKeys("roadTest");
        }
    }

    @Test
    void mayLeaveTheRoadOutOnlyWithAMeasurementAndAReason() {
        var still = said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.NOT_DRIVEN, "");
        assertThat(still.against(true, "", null)).containsOnlyKeys("roadTestNote");
        assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.NOT_DRIVEN, "no plates")
                        .against(true, "", null))
                .isEmpty();
        assertThat(still.against(false, "", null)).containsOnlyKeys("roadTest");
    }

    @Test
    void byRoadTestAloneNeedsTheComplaintGone() {
        assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.BETTER, "rare now")
                        .against(false, "", null))
                .containsOnlyKeys("roadTest");
        assertThat(said(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.BETTER, "rare now")
                        .against(true, "", null))
                .isEmpty();
    }

    private static Statement said(
            Codes codes, String codesNote, Monitors monitors, String monitorsNote, RoadTest road, String roadNote) {
        return new Statement(codes, codesNote, monitors, monitorsNote, road, roadNote, "");
    }
}
