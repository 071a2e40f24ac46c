package idlewright.reference.obd;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.reference.codes.CodeBook;
import idlewright.reference.codes.TroubleCode;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ObdTest {

    private static List<String> codes(String answer) {
        return Obd.decode(answer).codes().stream().map(TroubleCode::text).toList();
    }

    private static List<String> texts(String answer) {
        return Obd.decode(answer).values().stream().map(Value::text).toList();
    }

    @Test
    void saysWhatTheAnswerIsAbout() {
        Decoded decoded = Obd.decode("41 0C 1A F8");
        assertThat(decoded.response()).isEqualTo("41 0C 1A F8");
        assertThat(decoded.service()).isEqualTo("01");
        assertThat(decoded.pid()).isEqualTo("0C");
        assertThat(decoded.name()).isEqualTo("engine speed");
        assertThat(decoded.values()).extracting(Value::text).containsExactly("1726 rpm");
        assertThat(decoded.codes()).isEmpty();
        assertThat(decoded.readiness()).isEmpty();
        assertThat(decoded.problem()).isNull();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "41 0C 1A F8",
                "410C1AF8",
                "41 0c 1a f8",
                " 41  0C\t1A F8 \r\n\r\n>",
                "010C\r41 0C 1A F8\r\r>",
                "01 0C\n41 0C 1A F8",
                "010C1\r\n410C1AF8\r\n",
                "010C410C1AF8",
                "01 0C 41 0C 1A F8",
                "SEARCHING...\r41 0C 1A F8",
                "SEARCHING...41 0C 1A F8",
                "BUS INIT: OK\n41 0C 1A F8",
                "BUS INIT: ...OK\n41 0C 1A F8",
                "BUS INIT...\n41 0C 1A F8",
                "ATE0\nOK\n41 0C 1A F8",
                "12.4V\n41 0C 1A F8",
                "7E8 04 41 0C 1A F8",
                "7E8 04 41 0C 1A F8 00 00 00",
                "7E804410C1AF8",
                "18 DA F1 10 04 41 0C 1A F8",
                "18DAF11004410C1AF8AAAAAA",
                "48 6B 10 41 0C 1A F8 1C",
                "84 F1 10 41 0C 1A F8 E4",
                "7DF 02 01 0C 00 00 00 00 00\r7E8 04 41 0C 1A F8 00 00 00",
                "7E0 02 01 0C\r7E8 04 41 0C 1A F8",
                "7F 01 78\r41 0C 1A F8",
                "7E8 03 7F 01 78\r7E8 04 41 0C 1A F8",
                "41 0C 1A F8\u0000"
            })
    void toleratesWhatAdaptersAdd(String answer) {
        Decoded decoded = Obd.decode(answer);
        assertThat(decoded.problem()).isNull();
        assertThat(decoded.values()).extracting(Value::text).containsExactly("1726 rpm");
    }

    @ParameterizedTest(name = "{0} is refused: {1}")
    @CsvSource(
            delimiter = '|',
            value = {
                "41 0C 1G F8|Byte 3, “1G”, is not two hexadecimal digits.",
                "41 0C 1A F|Byte 4, “F”, is not two hexadecimal digits.",
                "41 0C 1A F8 00|Byte 5, “00”, is one more than PID 0C carries (2).",
                "41 0C 1A|PID 0C carries 2 bytes, but only 1 came.",
                "41|The answer ends before its PID.",
                "55 0C 1A F8|Byte 1, “55”, does not start an answer: 41 to 4A or 7F is expected.",
                "41 F7 00|Byte 2, “F7”, is a PID that is not in the table; its bytes stand as they came.",
                "7E8 06 41 0C 1A F8|Byte 2, “06”, announces 6 bytes, but only 4 came.",
                "7E8 41 0C 1A F8|Byte 2, “41”, is no frame of a diagnostic answer.",
                "7E8 21 41 0C|Byte 2, “21”, continues a long answer whose start is missing.",
                "NO DATA|The vehicle gave no answer to this request.",
                "UNABLE TO CONNECT|The vehicle gave no answer to this request.",
                "SEARCHING... UNABLE TO CONNECT|The vehicle gave no answer to this request.",
                "CAN ERROR|The link failed (CAN ERROR): ask again.",
                "BUS INIT: ...ERROR|The link failed (BUS INIT: ...ERROR): ask again.",
                "010C|Only the request came back, without an answer.",
                "?|The adapter did not understand the request (?): ask again.",
                "SEARCHING...|The adapter was still looking for the vehicle's link when this was taken: no answer came.",
                "7F 01 78|The vehicle refused the request: answer still to come (78).",
                "hello|Byte 1, “HE”, is not two hexadecimal digits.",
                "7F 01 12|The vehicle refused the request: request not supported (12).",
                "7F 01|The vehicle refused the request and gave no reason.",
                "45 01|Service 05 is not decoded here."
            })
    void namesTheByteThatIsWrong(String answer, String problem) {
        assertThat(Obd.decode(answer).problem()).isEqualTo(problem);
    }

    @Test
    void hasAnAnswerToNothing() {
        assertThat(Obd.decode("").problem()).startsWith("There is nothing to decode");
        assertThat(Obd.decode("0".repeat(30_000)).problem()).contains("longer than 20000 characters");
    }

    @Test
    @Timeout(10)
    void isNotHeldUpByLongRunsOfOneCharacter() {
        for (String run : List.of(" ", ".", "0", "V", "V1", "1:", ":", "4", "7E8", "\n", "41 ", "BUS INIT ")) {
            String much = run.repeat(19_900 / run.length());
            assertThat(Obd.decode("BUS INIT:" + much + "X").problem()).isNotNull();
            assertThat(Obd.decode(much).response()).isEqualTo(much);
        }
    }

    @Test
    void namesTheLineWhenThereAreSeveral() {
        assertThat(Obd.decode("41 0C 1A F8\n41 0C 1A Z8").problem())
                .isEqualTo("Line 2, byte 4, “Z8”, is not two hexadecimal digits.");
    }

    @Test
    void keepsWhatCouldBeReadBesideTheProblem() {
        Decoded decoded = Obd.decode("41 0C 1A F8 00");
        assertThat(decoded.problem()).isNotNull();
        assertThat(decoded.values()).extracting(Value::text).containsExactly("1726 rpm");
    }

    @Test
    void readsStoredPendingAndPermanentCodes() {
        // SAE J1979: without a count on the older protocols, filled up with 00 00; with a count on CAN
        assertThat(codes("43 01 33 00 00 00 00")).containsExactly("P0133");
        assertThat(codes("43 02 01 33 01 71")).containsExactly("P0133", "P0171");
        assertThat(codes("43 00")).isEmpty();
        assertThat(codes("7E8 06 43 02 01 33 01 71 00")).containsExactly("P0133", "P0171");
        assertThat(codes("7E8 04 43 01 01 33\n7E9 04 43 01 07 00")).containsExactly("P0133", "P0700");
        assertThat(codes("43 01 33 01 71 01 74\n43 03 00 00 00 00 00"))
                .containsExactly("P0133", "P0171", "P0174", "P0300");
        assertThat(Obd.decode("47 01 33 00 00 00 00").name()).isEqualTo("pending codes");
        assertThat(Obd.decode("4A 01 01 33").name()).isEqualTo("permanent codes");
        assertThat(Obd.decode("4A 01 01 33").service()).isEqualTo("0A");
        assertThat(Obd.decode("44").name()).isEqualTo("codes cleared");
        assertThat(Obd.decode("44").problem()).isNull();
    }

    @Test
    void joinsAnswersInParts() {
        // obd-java-api, named test class for pending codes; padding 00 00 is no code
        String parts = "00A\n0: 47 04 01 08 01 18\n1: 01 19 01 20 00 00";
        for (String answer : List.of(
                parts,
                parts.replace(" ", ""),
                parts.replace("\n", "\r\r"),
                parts.replaceAll("[\\s]", ""),
                parts.replace("00A\n", ""),
                "07\n" + parts + "\n>",
                "7E8 10 0A 47 04 01 08 01 18\n7E8 21 01 19 01 20 00 00 00",
                "7E8100A470401080118\n7E82101190120000000")) {
            assertThat(codes(answer)).as(answer).containsExactly("P0108", "P0118", "P0119", "P0120");
            assertThat(Obd.decode(answer).problem()).as(answer).isNull();
        }
    }

    @Test
    void leavesOutAnOddByteAtTheEnd() {
        // python-OBD tests/test_decoders.py: 01 04 80 03 41 gives P0104 and B0003
        Decoded decoded = Obd.decode("43 01 04 80 03 41");
        assertThat(decoded.codes()).extracting(TroubleCode::text).containsExactly("P0104", "B0003");
        assertThat(decoded.problem()).isEqualTo("Byte 6, “41”, is half a code and is left out.");
        assertThat(codes("43 01 04 80 03 41 23")).containsExactly("P0104", "B0003", "C0123");
    }

    @Test
    void noticesMissingAndShortParts() {
        assertThat(Obd.decode("00A\n0: 47 04 01 08 01 18\n2: 01 19").problem())
                .isEqualTo("Part 1 of the answer is missing: part 2 came instead.");
        assertThat(Obd.decode("00A\n0: 47 04 01 08 01 18").problem())
                .isEqualTo("The answer announces 10 bytes, but only 6 came.");
    }

    @Test
    void readsTheMonitors() {
        // python-OBD tests/test_decoders.py test_status
        Readiness all = Obd.decode("41 01 83 07 FF 00").readiness().orElseThrow();
        assertThat(all.lamp()).isTrue();
        assertThat(all.codeCount()).isEqualTo(3);
        assertThat(all.ignition()).isEqualTo(Readiness.Ignition.SPARK);
        assertThat(all.ready()).hasSize(11);
        assertThat(all.notReady()).isEmpty();

        // the same suite
        Readiness diesel = Obd.decode("41 01 00 79 03 03").readiness().orElseThrow();
        assertThat(diesel.lamp()).isFalse();
        assertThat(diesel.codeCount()).isZero();
        assertThat(diesel.ignition()).isEqualTo(Readiness.Ignition.COMPRESSION);
        assertThat(diesel.ready()).isEmpty();
        assertThat(diesel.notReady()).containsExactly("misfire", "NMHC catalyst", "NOx aftertreatment");
        assertThat(diesel.monitors()).filteredOn(Readiness.Monitor::complete).noneMatch(Readiness.Monitor::supported);

        // constructed and computed in the check table
        Readiness open = Obd.decode("41 01 81 07 65 04").readiness().orElseThrow();
        assertThat(open.codeCount()).isEqualTo(1);
        assertThat(open.notReady()).containsExactly("fuel vapour system");
        assertThat(open.ready())
                .contains("catalyst", "oxygen sensor", "oxygen sensor heater")
                .hasSize(6);
        assertThat(open.readyForInspection(2004)).isTrue();
        assertThat(diesel.readyForInspection(1998)).isFalse();
    }

    @ParameterizedTest(name = "{0}: lamp {1}, {2} codes")
    @CsvSource({
        // obd-java-api, named test class for the lamp and the number of codes
        "41 01 FF 00 00 00, true, 127",
        "41 01 9F, true, 31",
        "41 01 0F, false, 15"
    })
    void readsLampAndCountEvenFromOneByte(String answer, boolean lamp, int count) {
        Readiness readiness = Obd.decode(answer).readiness().orElseThrow();
        assertThat(readiness.lamp()).isEqualTo(lamp);
        assertThat(readiness.codeCount()).isEqualTo(count);
    }

    @Test
    void saysThatOneByteLeavesTheMonitorsUnknown() {
        assertThat(Obd.decode("41 01 9F").problem()).isEqualTo("PID 01 carries 4 bytes, but only 1 came.");
        assertThat(Obd.decode("41 01 9F").readiness().orElseThrow().ignition()).isEqualTo(Readiness.Ignition.NOT_KNOWN);
        assertThat(Obd.decode("41 01 9F").readiness().orElseThrow().readyForInspection(2010))
                .isFalse();
    }

    @Test
    void readsAFreezeFrame() {
        Decoded speed = Obd.decode("42 0C 00 1A F8");
        assertThat(speed.service()).isEqualTo("02");
        assertThat(speed.name()).isEqualTo("engine speed, freeze frame 0");
        assertThat(speed.values()).extracting(Value::text).containsExactly("1726 rpm");
        assertThat(codes("42 02 00 01 71")).containsExactly("P0171");
        assertThat(codes("42 02 00 00 00")).isEmpty();
        assertThat(Obd.decode("42 0C").problem()).startsWith("A freeze frame answer carries");
    }

    @Test
    void readsTheVin() {
        // 1G4AH59H45G118341 is the sample of 49 CFR 565; bytes are its ASCII
        String can = "014\n0: 49 02 01 31 47 34\n1: 41 48 35 39 48 34 35\n2: 47 31 31 38 33 34 31";
        String framed = "7E8 10 14 49 02 01 31 47 34\n7E8 21 41 48 35 39 48 34 35\n7E8 22 47 31 31 38 33 34 31";
        String old = "49 02 01 00 00 00 31\n49 02 02 47 34 41 48\n49 02 03 35 39 48 34\n49 02 04 35 47 31 31\n"
                + "49 02 05 38 33 34 31";
        for (String answer : List.of(can, framed, old, can.replaceAll("\\s", ""))) {
            Decoded decoded = Obd.decode(answer);
            assertThat(decoded.problem()).as(answer).isNull();
            assertThat(decoded.name()).isEqualTo("VIN");
            assertThat(decoded.values()).extracting(Value::text).containsExactly("1G4AH59H45G118341");
        }
        assertThat(Obd.decode(can.replace("2: 47 31 31 38 33 34 31", "2: 47 31 31 38 33 34"))
                        .problem())
                .contains("announces 20 bytes, but only 19 came");
        assertThat(Obd.decode(old.replace("49 02 03 35 39 48 34\n", "")).problem())
                .contains("line 3 of the answer is missing");
        assertThat(Obd.decode("49 02 01 31 47 34").problem()).isEqualTo("The VIN has 3 characters instead of 17.");
    }

    @Test
    void readsCalibrationIds() {
        Decoded decoded = Obd.decode("013\n0: 49 04 01 53 48 4F\n1: 50 2D 30 31 00 00 00\n2: 00 00 00 00 00 00 00");
        assertThat(decoded.name()).isEqualTo("calibration id");
        assertThat(decoded.values()).extracting(Value::text).containsExactly("SHOP-01");
        assertThat(decoded.problem()).isNull();
        assertThat(texts("49 06 01 12 34 AB CD")).containsExactly("1234ABCD");
        assertThat(texts("49 00 55 40 00 00")).containsExactly("02 04 06 08 0A");
    }

    @Test
    void readsTestResults() {
        // python-OBD tests/test_uas.py and test_decoders.py: unit 0A is 0.122 mV; 0BB0h gives 365.0
        assertThat(texts("46 01 01 0A 0B B0 0B B0 0B B0")).containsExactly("365.024 mV", "365.024 mV", "365.024 mV");
        assertThat(texts("46 01 01 0A 20 04 00 00 FF FF").get(0)).isEqualTo("999.912 mV");
        assertThat(texts("46 A2 0B 07 00 04 00 00 FF FF").get(0)).isEqualTo("1.00 rpm");
        assertThat(Obd.decode("46 01 01 0A 0B B0 0B B0 0B B0 01").problem()).contains("cut off");
        assertThat(Obd.decode("46 01 01 7E 0B B0 0B B0 0B B0").problem())
                .isEqualTo("Byte 4, “7E”, is a scaling that is not in the table; the numbers stand unscaled.");
        assertThat(texts("46 00 C0 00 00 01")).containsExactly("01 02 20");
    }

    @Test
    void readsSeveralParametersOfOneAnswer() {
        Decoded decoded = Obd.decode("41 0C 1A F8 0D 40 05 7B");
        assertThat(decoded.problem()).isNull();
        assertThat(decoded.name()).isEqualTo("engine speed");
        assertThat(decoded.values()).extracting(Value::text).containsExactly("1726 rpm", "64 km/h", "83 degC");
    }

    @Test
    void addsWhatAFurtherModuleSaysDifferently() {
        Decoded decoded = Obd.decode("7E8 06 41 00 BE 3F A8 13\n7E9 06 41 00 80 00 00 01");
        assertThat(decoded.values())
                .extracting(Value::name)
                .containsExactly("supported PIDs 01 to 20", "supported PIDs 01 to 20 (7E9)");
        assertThat(texts("7E8 04 41 0C 1A F8\n7E9 04 41 0C 1A F8")).containsExactly("1726 rpm");
    }

    @Test
    void decodesAnswersToSeveralRequestsOneByOne() {
        String two = "41 0C 1A F8\n41 0D 40";
        assertThat(Obd.decode(two).problem())
                .isEqualTo("Answers to 2 different requests stand here; only the first is decoded.");
        assertThat(Obd.decodeAll(two)).extracting(Decoded::name).containsExactly("engine speed", "vehicle speed");
        assertThat(Obd.decodeAll(two)).extracting(Decoded::response).containsExactly("41 0C 1A F8", "41 0D 40");
        assertThat(Obd.decodeAll("")).hasSize(1);
    }

    @Test
    void explainsTheCodesItFound() {
        assertThat(Obd.decode("43 01 71 00 00 00 00").explainedCodes())
                .extracting(CodeBook.Entry::meaning)
                .containsExactly("Mixture too lean, bank 1");
    }

    @Test
    void neverFallsOverMutatedAnswers() {
        List<String> good = List.of(
                "41 0C 1A F8",
                "7E8 06 41 00 BE 3F A8 13",
                "00A\n0: 47 04 01 08 01 18\n1: 01 19 01 20 00 00",
                "7E8 10 14 49 02 01 31 47 34\n7E8 21 41 48 35 39 48 34 35\n7E8 22 47 31 31 38 33 34 31",
                "49 02 01 00 00 00 31\n49 02 02 47 34 41 48\n49 02 03 35 39 48 34",
                "SEARCHING...\r43 01 33 00 00 00 00\r>",
                "46 01 01 0A 0B B0 0B B0 0B B0",
                "BUS INIT: ...OK\n41 01 83 07 FF 00",
                "48 6B 10 41 0C 1A F8 1C",
                "18DAF11004410C1AF8",
                "42 02 00 01 71",
                "7F 01 12",
                "41 24 80 00 80 00",
                "010C\r41 0C 1A F8\r\r>");
        String letters = "0123456789ABCDEFabcdef :>\r\n\t.G?\u0000\u00e9\u2009SEARCHINGBUSOKNODATA47E8";
        Random random = new Random(200_000);
        for (int i = 0; i < 200_000; i++) {
            StringBuilder answer = new StringBuilder(good.get(random.nextInt(good.size())));
            for (int n = random.nextInt(6); n >= 0; n--) {
                int at = random.nextInt(answer.length() + 1);
                switch (random.nextInt(5)) {
                    case 0 -> answer.insert(at, letters.charAt(random.nextInt(letters.length())));
                    case 1 -> answer.delete(at, Math.min(answer.length(), at + 1 + random.nextInt(6)));
                    case 2 -> answer.insert(at, good.get(random.nextInt(good.size())));
                    case 3 -> answer.setLength(at);
                    default -> {
                        if (at < answer.length()) {
                            answer.setCharAt(at, letters.charAt(random.nextInt(letters.length())));
                        }
                    }
                }
            }
            Decoded decoded = Obd.decode(answer.toString());
            assertThat(decoded.response()).isEqualTo(answer.toString());
            boolean silent = decoded.values().isEmpty()
                    && decoded.codes().isEmpty()
                    && decoded.readiness().isEmpty()
                    && decoded.problem() == null;
            assertThat(silent && !decoded.name().contains("code"))
                    .as(answer.toString())
                    .isFalse();
            assertThat(Obd.decodeAll(answer.toString())).isNotEmpty();
        }
    }
}
