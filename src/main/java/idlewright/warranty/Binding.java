package idlewright.warranty;

import idlewright.frame.Paper;
import idlewright.frame.Paper.Attachment;
import idlewright.frame.Times;
import idlewright.frame.rules.Cells;
import idlewright.journal.Marks;
import idlewright.journal.rules.Canonical;
import idlewright.journal.rules.Chain;
import idlewright.people.Shops;
import idlewright.warranty.Evidence.Photo;
import idlewright.warranty.rules.Bundle;
import idlewright.warranty.rules.Bundle.Piece;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.springframework.stereotype.Component;
import tools.jackson.databind.SerializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** Makes paper and files of the evidence. */
@Component
class Binding {

    /** A photo as paper shows it. */
    public record Shown(String caption, String src, String file, List<String> marks) {}

    /** More pictures than this make the paper heavy; the ZIP holds all. */
    private static final int MOST_ON_PAPER = 12;

    /** Bytes of photos and originals within the paper: more than this no letterbox takes; the ZIP holds all. */
    private static final long MOST_ATTACHED = 20_000_000;

    private final Paper paper;
    private final Shops shops;
    private final Times times;
    private final Marks marks;
    private final JsonMapper json =
            JsonMapper.builder().enable(SerializationFeature.INDENT_OUTPUT).build();

    Binding(Paper paper, Shops shops, Times times, Marks marks) {
        this.marks = marks;
        this.paper = paper;
        this.shops = shops;
        this.times = times;
    }

    /** The figures and words that travel within the paper and beside it. */
    Map<String, byte[]> data(Evidence evidence) {
        var data = new LinkedHashMap<String, byte[]>();
        data.put("readings.csv", readings(evidence));
        data.put("authorisations.csv", authorisations(evidence));
        data.put("swap-checks.csv", checks(evidence));
        data.put("proof.csv", proof(evidence));
        data.put("story.json", json.writeValueAsBytes(story(evidence)));
        data.put("journal.jsonl", journal(evidence).getBytes(StandardCharsets.UTF_8));
        var marked = evidence.photos().stream().filter(Photo::hasMarks).toList();
        if (!marked.isEmpty()) {
            data.put("marks.json", json.writeValueAsBytes(marks(marked)));
            marked.forEach(photo -> data.put(
                    photo.drawing(),
                    photo.marked()
                            .sketch()
                            .svg(photo.file().replaceFirst("^.*/", ""), photo.caption())
                            .getBytes(StandardCharsets.UTF_8)));
        }
        return data;
    }

    byte[] paper(Evidence evidence, Map<String, byte[]> data) {
        var model = new LinkedHashMap<String, Object>();
        model.put("dossier", evidence);
        model.put("shop", shops.shop());
        model.put("author", shops.shop().name());
        model.put("sheet", shops.sheet());
        model.put(
                "photos",
                evidence.photos().stream().limit(MOST_ON_PAPER).map(this::shown).toList());
        model.put("more", Math.max(0, evidence.photos().size() - MOST_ON_PAPER));
        var attached = new ArrayList<Attachment>();
        data.forEach((name, bytes) -> attached.add(new Attachment(plain(name), mime(name), bytes, about(name))));
        // What is larger than a letter can carry travels in the ZIP only.
        long room = MOST_ATTACHED;
        for (Photo photo : evidence.photos()) {
            room -= bytes(photo).length;
            if (room < 0) {
                break;
            }
            attached.add(new Attachment(plain(photo.file()), mime(photo.file()), bytes(photo), photo.caption()));
        }
        return paper.pdf("warranty/paper", model, attached);
    }

    private static String plain(String name) {
        return name.replaceFirst("^.*/", "");
    }

    private static String mime(String name) {
        return switch (name.substring(name.lastIndexOf('.') + 1)) {
            case "csv" -> "text/csv";
            case "json" -> "application/json";
            case "svg" -> "image/svg+xml";
            case "png" -> "image/png";
            case "jpg" -> "image/jpeg";
            default -> "text/plain";
        };
    }

    private static String about(String name) {
        return switch (name) {
            case "readings.csv" -> "The readings as a table";
            case "authorisations.csv" -> "What was agreed, as a table";
            case "swap-checks.csv" -> "The parts and what was checked, as a table";
            case "proof.csv" -> "What proves the repair, as a table";
            case "story.json" -> "The story for programs";
            case "journal.jsonl" -> "The shop's journal from this ticket's first entry to its head";
            case "marks.json" -> "What was marked on the photos";
            default -> "A photo with its marks";
        };
    }

    /** All files of the ZIP but the list and its signature. */
    List<Piece> pieces(Evidence evidence, byte[] pdf, Map<String, byte[]> data, String publicKey) {
        var pieces = new ArrayList<Piece>();
        pieces.add(Piece.of("dossier.pdf", pdf));
        data.forEach((name, bytes) -> pieces.add(Piece.of(name, bytes)));
        for (Photo photo : evidence.photos()) {
            pieces.add(new Piece(photo.file(), () -> Files.newInputStream(photo.path())));
        }
        for (Photo original : evidence.originals()) {
            pieces.add(new Piece(original.file(), () -> Files.newInputStream(original.path())));
        }
        pieces.add(Piece.of(Bundle.KEY, publicKey));
        pieces.add(Piece.of("VERIFY.txt", verify(evidence)));
        return pieces;
    }

    private byte[] readings(Evidence evidence) {
        var rows = new ArrayList<List<String>>();
        rows.add(List.of(
                "taken", "test", "reading", "value", "unit", "verdict", "held against", "conditions", "at", "by"));
        for (var one : evidence.readings()) {
            rows.add(List.of(
                    one.after() ? "after" : "before",
                    one.test(),
                    one.label(),
                    one.value(),
                    one.unit(),
                    one.verdict(),
                    one.ground(),
                    one.conditions(),
                    one.at().toString(),
                    one.who()));
        }
        return Cells.csv(rows);
    }

    private byte[] authorisations(Evidence evidence) {
        var rows = new ArrayList<List<String>>();
        rows.add(List.of("at", "for", "amount with tax", "how", "agreed by", "words", "taken down by", "stands"));
        for (var one : evidence.agreements()) {
            rows.add(List.of(
                    one.at().toString(),
                    one.kind(),
                    one.amount(),
                    one.channel(),
                    one.byWhom(),
                    one.words(),
                    one.takenBy(),
                    one.replaced() ? "replaced by a later one" : "yes"));
        }
        return Cells.csv(rows);
    }

    private static byte[] checks(Evidence evidence) {
        var rows = new ArrayList<List<String>>();
        rows.add(List.of("part", "standing", "what", "answer", "at", "by"));
        for (var part : evidence.parts()) {
            Stream.concat(part.facts().stream(), part.checks().stream())
                    .forEach(fact -> rows.add(List.of(
                            part.title(),
                            part.state(),
                            fact.name(),
                            fact.value(),
                            part.at().toString(),
                            part.who())));
        }
        return Cells.csv(rows);
    }

    private static byte[] proof(Evidence evidence) {
        var rows = new ArrayList<List<String>>();
        rows.add(List.of("at", "by", "what", "said"));
        for (var told : evidence.of("PROOF")) {
            rows.add(List.of(told.at().toString(), told.who(), told.title(), told.said()));
        }
        return Cells.csv(rows);
    }

    /** Places in percent of the photo, from its upper left corner. */
    private static List<Map<String, Object>> marks(List<Photo> photos) {
        var all = new ArrayList<Map<String, Object>>();
        for (Photo photo : photos) {
            for (var mark : photo.marked().marks()) {
                var one = new LinkedHashMap<String, Object>();
                one.put("photo", photo.file());
                one.put("sha256OfOriginal", photo.exhibit().sha256());
                one.put("kind", mark.kind().word());
                one.put("xPct", mark.x());
                one.put("yPct", mark.y());
                if (mark.toX() != null && mark.toY() != null) {
                    one.put("toXPct", mark.toX());
                    one.put("toYPct", mark.toY());
                }
                one.put("words", mark.words());
                one.put("by", mark.by());
                one.put("at", mark.at().toString());
                all.add(one);
            }
        }
        return all;
    }

    private Map<String, Object> story(Evidence e) {
        var shop = shops.shop();
        var story = new LinkedHashMap<String, Object>();
        story.put("dossier", e.code());
        story.put("replaces", e.replaces() == null ? "" : e.replaces());
        story.put("sealedAt", e.sealedAt().toString());
        story.put("sealedBy", e.sealedBy());
        story.put("shop", Map.of("name", shop.name(), "address", shop.address()));
        var facts = new LinkedHashMap<String, String>();
        e.facts().forEach(fact -> facts.put(fact.name(), fact.value()));
        story.put("about", facts);
        story.put("complaint", e.words());
        story.put("kind", e.symptom().kindName());
        story.put("circumstances", e.circumstances());
        story.put(
                "story",
                e.story().stream()
                        .map(told -> {
                            var one = new LinkedHashMap<String, Object>();
                            one.put("chapter", told.chapter().name());
                            one.put("at", told.at().toString());
                            one.put("who", told.who());
                            one.put("title", told.title());
                            one.put("said", told.said());
                            one.put("figures", told.figures());
                            return one;
                        })
                        .toList());
        story.put(
                "swaps",
                e.parts().stream()
                        .map(part -> {
                            var one = new LinkedHashMap<String, Object>();
                            one.put("title", part.title());
                            one.put("state", part.state());
                            part.facts().forEach(fact -> one.put(fact.name(), fact.value()));
                            var checks = new LinkedHashMap<String, String>();
                            part.checks().forEach(check -> checks.put(check.name(), check.value()));
                            one.put("checks", checks);
                            return one;
                        })
                        .toList());
        story.put("photos", files(e.photos()));
        story.put("originals", files(e.originals()));
        story.put("journalHead", e.head());
        story.put("keyFingerprint", e.fingerprint());
        return story;
    }

    private static List<Map<String, Object>> files(List<Photo> photos) {
        return photos.stream()
                .map(photo -> {
                    var one = new LinkedHashMap<String, Object>();
                    one.put("file", photo.file());
                    one.put("shows", photo.caption());
                    one.put("keptAt", photo.exhibit().keptAt().toString());
                    one.put("keptBy", photo.exhibit().keptBy());
                    one.put("sha256OfOriginal", photo.exhibit().sha256());
                    return (Map<String, Object>) one;
                })
                .toList();
    }

    private static String journal(Evidence evidence) {
        return evidence.journal().stream().map(Binding::line).collect(Collectors.joining("\n", "", "\n"));
    }

    /** The entry stands as it was hashed, byte for byte, so that anybody can hash it again. */
    private static String line(Evidence.Line line) {
        String link = "\"hash\":\"%s\",\"id\":%d,\"previousHash\":\"%s\""
                .formatted(line.hash(), line.id(), line.previousHash());
        if (line.entry() != null) {
            return "{\"entry\":" + Chain.canonical(line.entry()) + "," + link + "}";
        }
        return line.sentence() == null
                ? "{" + link + ",\"withheld\":\"not this ticket's\"}"
                : "{" + link + ",\"sentence\":" + Canonical.json(line.sentence())
                        + ",\"withheld\":\"names the customer\"}";
    }

    private String verify(Evidence evidence) {
        return """
                Dossier %s of %s
                sealed on %s by %s

                Unpack the ZIP, open a terminal in its folder, and run these two commands.

                1. Is every file as it was sealed? Each line has to end in OK:

                   sha256sum -c SHA256SUMS

                2. Did the shop sign that list? It has to say: Signature Verified Successfully

                   openssl pkeyutl -verify -pubin -inkey shop-key.pem -rawin -in SHA256SUMS -sigfile SHA256SUMS.sig

                The key is the shop's if its fingerprint, asked for at the shop and not taken from here, is

                   %s

                openssl pkey -pubin -in shop-key.pem -outform DER | sha256sum     works it out (OpenSSL 3).

                journal.jsonl holds the shop's journal from this ticket's first entry to its head at the time of sealing:
                hash = SHA-256(the 32 bytes of previousHash, then the entry's JSON as it stands in the line).
                Entries of other tickets are withheld; their links are there.%s
                Head: %s
                """.formatted(
                        evidence.code(),
                        shops.shop().name(),
                        times.at(evidence.sealedAt()),
                        evidence.sealedBy(),
                        evidence.fingerprint(),
                        evidence.journalGap() == null ? "" : " " + evidence.journalGap(),
                        evidence.head());
    }

    private Shown shown(Photo photo) {
        byte[] picture = photo.hasMarks() ? marks.painted(photo.marked()) : bytes(photo);
        String mime = photo.hasMarks() ? "image/jpeg" : mime(photo.file());
        var said = photo.marked() == null
                ? List.<String>of()
                : photo.marked().marks().stream()
                        .map(mark -> mark.said() + " (" + mark.by() + ", " + times.at(mark.at()) + ")")
                        .toList();
        return new Shown(photo.caption(), Paper.dataUri(mime, picture), photo.file(), said);
    }

    private static byte[] bytes(Photo photo) {
        try {
            return Files.readAllBytes(photo.path());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
