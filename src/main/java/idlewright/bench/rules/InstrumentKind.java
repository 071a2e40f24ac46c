package idlewright.bench.rules;

/** The sorts of instrument a procedure may ask for. */
public enum InstrumentKind {
    METER("multimeter, 10 Mohm"),
    SCAN_TOOL("scan tool"),
    SCOPE("oscilloscope or graphing meter"),
    SMOKE_GENERATOR("smoke generator"),
    VACUUM_GAUGE("vacuum gauge"),
    FUEL_GAUGE("fuel pressure gauge"),
    INJECTOR_PULSER("injector pulser"),
    SPARK_TESTER("spark tester"),
    COMPRESSION_GAUGE("compression gauge"),
    LEAK_DOWN_TESTER("leak-down tester"),
    PRESSURE_GAUGE("low pressure gauge"),
    GAS_ANALYSER("exhaust gas analyser"),
    THERMOMETER("thermometer");

    private final String words;

    InstrumentKind(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
