package idlewright.reference.obd;

import idlewright.reference.obd.Frames.Message;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Decodes answers of the diagnostic link: live data, freeze frame, codes, test results and vehicle information.
 *
 * <p>Forgiving about what an adapter adds (echo, prompt, spacing, headers, chatter), exact about everything else.
 * Source: SAE J1979 / ISO 15031-5 as public tables give its facts.
 */
public final class Obd {

    private Obd() {}

    /**
     * What one answer says, several lines and modules included. Never throws: what is wrong stands in
     * {@link Decoded#problem()}, naming the byte.
     */
    public static Decoded decode(String response) {
        Frames frames = new Frames(response);
        List<List<Message>> answers = answers(frames);
        if (answers.isEmpty()) {
            return nothing(response, frames.problem());
        }
        Decoded first = new Reading(frames).decoded(response, answers.get(0), frames.problem());
        if (answers.size() == 1 || first.problem() != null) {
            return first;
        }
        return new Decoded(
                response,
                first.service(),
                first.pid(),
                first.name(),
                first.values(),
                first.codes(),
                first.readiness(),
                "Answers to %d different requests stand here; only the first is decoded.".formatted(answers.size()));
    }

    /** As {@link #decode}, for a text that holds answers to several requests: one entry for each, in their order. */
    public static List<Decoded> decodeAll(String response) {
        Frames frames = new Frames(response);
        List<List<Message>> answers = answers(frames);
        if (answers.isEmpty()) {
            return List.of(nothing(response, frames.problem()));
        }
        List<Decoded> all = new ArrayList<>();
        for (List<Message> answer : answers) {
            String text = answer.stream().map(Message::text).collect(Collectors.joining("\n"));
            all.add(new Reading(frames).decoded(text, answer, all.isEmpty() ? frames.problem() : null));
        }
        return all;
    }

    /** Messages to one request belong together: further lines of an old protocol, or the answers of further modules. */
    private static List<List<Message>> answers(Frames frames) {
        Map<String, List<Message>> answers = new LinkedHashMap<>();
        for (Message message : withoutPending(frames.messages())) {
            int service = message.octets().get(0).value();
            boolean hasPid = service != 0x43
                    && service != 0x47
                    && service != 0x4A
                    && message.octets().size() > 1;
            String request = message.octets().get(0).text()
                    + (hasPid ? message.octets().get(1).text() : "");
            answers.computeIfAbsent(request, any -> new ArrayList<>()).add(message);
        }
        return List.copyOf(answers.values());
    }

    /** "Answer still to come" (7F xx 78) is no refusal once the answer has come. */
    private static List<Message> withoutPending(List<Message> messages) {
        List<Message> answered =
                messages.stream().filter(each -> !pending(each)).toList();
        return answered.isEmpty() ? messages : answered;
    }

    private static boolean pending(Message message) {
        List<Frames.Octet> octets = message.octets();
        return octets.size() >= 3
                && octets.get(0).value() == 0x7F
                && octets.get(2).value() == 0x78;
    }

    private static Decoded nothing(String response, @Nullable String problem) {
        return new Decoded(response, "", null, "no answer", List.of(), List.of(), Optional.empty(), problem);
    }
}
