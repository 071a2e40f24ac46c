package idlewright.demo;

import idlewright.demo.Cast.Member;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Consumer;

/** All that happens in the demo shop, in the order of time; the same for the same first start. */
final class Script {

    /** What one person does at one moment. */
    record Step(Instant at, Member who, String what, Consumer<Scene> act) {}

    private final List<Step> steps = new ArrayList<>();
    private String chapter = "";

    /** What the following steps belong to, for whoever has to look for a fault in the script. */
    void chapter(String name) {
        chapter = name;
    }

    void at(Instant moment, Member who, Consumer<Scene> act) {
        steps.add(new Step(moment, who, chapter + ", step " + (steps.size() + 1), act));
    }

    List<Step> inOrder() {
        return steps.stream().sorted(Comparator.comparing(Step::at)).toList();
    }
}
