package idlewright.bench.rules;

import java.util.HashMap;
import java.util.Map;

/** Turns what the counter wrote down into the catalogue's answers; what has no counterpart weighs nothing. */
public final class Heard {
    static final Map<String, Map<String, String>> SAME = Map.of(
            "engine", Map.of("cold", "engine:cold", "hot", "engine:hot", "both", "engine:both"),
            "phase",
                    Map.of(
                            "cranking", "phase:starting",
                            "idle", "phase:idle",
                            "tip-in", "phase:tip-in",
                            "cruise", "phase:steady",
                            "under load", "phase:pull",
                            "slowing down", "phase:overrun"),
            "often",
                    Map.of(
                            "every time", "how-often:always",
                            "every day", "how-often:often",
                            "now and then", "how-often:sometimes",
                            "once", "how-often:once"),
            "weather",
                    Map.of(
                            "any", "weather:none",
                            "rain or damp", "weather:damp",
                            "frost", "weather:cold",
                            "heat", "weather:heat"),
            "lamp", Map.of("off", "lamp:off", "steady", "lamp:steady", "flashing", "lamp:flashing"),
            "throttle", Map.of("yes", "start-helps:throttle"),
            "stalls-when",
                    Map.of(
                            "coming back to idle", "stall-when:to-idle",
                            "in gear", "stall-when:in-gear",
                            "while driving", "stall-when:driving"),
            "restarts", Map.of("at once", "restarts:at-once", "must cool first", "restarts:must-cool"),
            "power-when",
                    Map.of(
                            "at all speeds", "power-where:everywhere",
                            "only above some engine speed", "power-where:above",
                            "uphill", "power-where:uphill"),
            "measured",
                    Map.of(
                            "full tank to full tank", "economy-measured:tanks",
                            "on-board display", "economy-measured:display",
                            "guessed", "economy-measured:feeling"));

    private Heard() {}

    /**
     * The answers as the catalogue knows them.
     *
     * @param answers the counter's question to the words of the answer; several at once ("idle, cruise") point nowhere
     */
    public static Map<String, String> answers(Map<String, String> answers) {
        var heard = new HashMap<String, String>();
        answers.forEach((question, words) -> {
            String same = SAME.getOrDefault(question, Map.of()).get(words.strip());
            if (same != null) heard.put(same.split(":")[0], same.split(":")[1]);
        });
        return heard;
    }
}
