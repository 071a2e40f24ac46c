package idlewright.bench.screens;

import idlewright.people.Public;
import org.springframework.core.io.ClassPathResource;
import org.springframework.core.io.Resource;
import org.springframework.http.MediaType;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RestController;

/** The description of the API, for programs and their writers; a test holds it against what is really here. */
@RestController
@Public
class DescriptionApi {

    @GetMapping(path = "/api/openapi.json", produces = MediaType.APPLICATION_JSON_VALUE)
    Resource description() {
        return new ClassPathResource("bench/openapi.json");
    }
}
