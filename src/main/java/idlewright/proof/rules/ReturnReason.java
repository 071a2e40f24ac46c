package idlewright.proof.rules;

/** Why a symptom came back: the reasons that owners sort by. Common practice, no source. */
public enum ReturnReason {
    WRITE_UP_UNCLEAR("write-up unclear"),
    NOT_SEEN("intermittent, not seen here"),
    WRONG_DIAGNOSIS("wrong diagnosis"),
    INCOMPLETE("incomplete work"),
    WORKMANSHIP("workmanship"),
    DEFECTIVE_PART("part defective out of the box"),
    PART_FAILED_LATER("part failed later"),
    WRONG_PART("wrong part"),
    SUBLET("sublet work"),
    UNRELATED("unrelated, feels alike"),
    DECLINED_PART("customer declined part of the work");

    private final String words;

    ReturnReason(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
