package idlewright.proof.rules;

import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What a technician states when a thread is proved.
 *
 * @param verifiedBy a second person who verified; empty where nobody did
 */
public record Statement(
        Codes codes,
        String codesNote,
        Monitors monitors,
        String monitorsNote,
        RoadTest roadTest,
        String roadTestNote,
        String verifiedBy) {

    /**
     * What stands against it, by field; empty when nothing does.
     *
     * @param measured whether the same test before and after proves it; otherwise the road test alone is to carry it
     * @param recordedCodes codes that were read before the repair, in words; empty where there were none
     * @param readAfter how the monitors stood when they were last read after the repair; null where nobody has read them
     */
    public Map<String, String> against(boolean measured, String recordedCodes, @Nullable Monitors readAfter) {
        var against = new LinkedHashMap<String, String>();
        if (codes == Codes.NOT_RECORDED) {
            against.put(
                    "codes",
                    "Record the codes with their freeze frames first; a repair is not proved with codes nobody wrote down.");
        }
        if (codes == Codes.NONE_STORED && !recordedCodes.isEmpty()) {
            against.put(
                    "codes", "Recorded before the repair: %s. Say whether it was cleared.".formatted(recordedCodes));
        }
        if (codes == Codes.RECORDED_CLEARED && recordedCodes.isEmpty() && codesNote.isBlank()) {
            against.put("codesNote", "Write down which codes were recorded; no test of this ticket holds them.");
        }
        if (codes == Codes.RECORDED_LEFT && codesNote.isBlank()) {
            against.put("codesNote", "Say why the codes stay stored.");
        }
        if (monitors == Monitors.SOME_NOT_READY && monitorsNote.isBlank()) {
            against.put("monitorsNote", "Say which monitors are not ready yet, so that the customer knows.");
        }
        if (monitors == Monitors.READY && readAfter == Monitors.SOME_NOT_READY) {
            against.put(
                    "monitors",
                    "When they were last read after the repair, not all monitors were ready. Read them again, or say which are not.");
        }
        switch (roadTest) {
            case SAME, WORSE ->
                against.put(
                        "roadTest", "With the symptom %s on the road it is not proved.".formatted(roadTest.words()));
            case BETTER -> {
                if (!measured) {
                    against.put("roadTest", "A road test alone proves only when the symptom is gone.");
                } else if (roadTestNote.isBlank()) {
                    against.put("roadTestNote", "Say what is left of it.");
                }
            }
            case NOT_DRIVEN -> {
                if (!measured) {
                    against.put("roadTest", "Without a comparable measurement the road test must be driven.");
                } else if (roadTestNote.isBlank()) {
                    against.put("roadTestNote", "Say why it was not driven.");
                }
            }
            case GONE -> {}
        }
        Map.of("codesNote", codesNote, "monitorsNote", monitorsNote, "roadTestNote", roadTestNote)
                .forEach((field, note) -> {
                    if (note.length() > 400) {
                        against.put(field, "Keep it under 400 characters.");
                    }
                });
        return against;
    }
}
