// Made of docs/handbook by `cargo xtask handbook`; it is not written by hand.

/** @type {import("./handbook.js").Chapter[]} */
export const CHAPTERS = [
  {
    "blocks": [
      {
        "paragraph": [
          "You have a date, a time on the clock, a town, and an astrolabe on the table. At the end you have read the rising degree and the beginnings of the houses off your brass, and you know how far to trust them."
        ]
      },
      {
        "heading": "The moment"
      },
      {
        "steps": [
          [
            "Write the date, year first, and the time of the clock into the line at the top; or press ",
            {
              "label": "Now"
            },
            "."
          ],
          [
            "Write the town's first letters under ",
            {
              "label": "Place"
            },
            " and take the right one from the list. A place that is in no list is written as latitude and longitude: 42.88, −8.54."
          ],
          [
            "Choose the instrument you have in hand. If yours is not there, the list ends with ",
            {
              "label": "My own…"
            },
            ": eight questions with small pictures, and the front is drawn as you answer."
          ]
        ]
      },
      {
        "paragraph": [
          "What is unusual about the clock lies under ",
          {
            "label": "More on clock, calendar, Sun, plates and houses"
          },
          ": mean time, the Sun's own time, the hours of old, the Julian calendar. Where nobody can be sure which clock was meant, the possible ones stand beneath the sum, each with its source; press the one you hold for right."
        ]
      },
      {
        "heading": "What to put where"
      },
      {
        "paragraph": [
          {
            "label": "Set your brass"
          },
          " gives three things: the plate to lay in, the Sun's degree to look for on the ring of the zodiac, and the hour for the rule. Beneath it stands the sum that leads from the clock to that hour, a line for each step: summer time, the zone, the town's longitude, the equation of time. Work it on paper once; it is the part where most slips are made."
        ]
      },
      {
        "paragraph": [
          "Between the two stands a verdict: good, usable, or not to be trusted, for this plate at this moment, and what hangs on it. Where it is not good, ways to do better with the same brass are offered, with what each would bring."
        ]
      },
      {
        "heading": "On the brass"
      },
      {
        "steps": [
          [
            "Lay the plate in, then the rete, then the rule, and put pin and wedge through."
          ],
          [
            "Turn the rule to the hour."
          ],
          [
            "Hold the rule there and turn the rete until the Sun's degree lies under the rule's edge."
          ],
          [
            "Look at the eastern half of the horizon. The degree of the zodiac that crosses it there is the ascendant."
          ]
        ]
      },
      {
        "paragraph": [
          "The picture turns as your brass does: press ",
          {
            "label": "Next"
          },
          " for each sentence, or turn rete and rule with the finger. ",
          {
            "label": "Show the back"
          },
          " turns it over. A newcomer is asked for the rising sign alone; ",
          {
            "label": "On to the midheaven and the houses"
          },
          " goes on."
        ]
      },
      {
        "heading": "With a phone beside it"
      },
      {
        "paragraph": [
          {
            "label": "Beside the brass"
          },
          ", at the top of the page, fills a phone's screen, either way round: what to set, then one sentence at a time with the instrument over it and a lens on what is read. ",
          {
            "label": "Next"
          },
          ", or a swipe to the left, goes on. ",
          {
            "label": "Now, here"
          },
          " casts for this minute, where you are; the browser asks before it tells. ",
          {
            "label": "What I read"
          },
          " opens number keys and the twelve signs. ",
          {
            "label": "Red light"
          },
          " leaves your eyes used to the dark."
        ]
      },
      {
        "heading": "What you read"
      },
      {
        "paragraph": [
          "Write what you read into the boxes under ",
          {
            "label": "What I read"
          },
          ": 11 Leo is enough. Each is held against what this instrument shows and against the calculated figure, and ",
          {
            "label": "Why they differ"
          },
          " opens every difference into its causes: so much by the plate, so much by the scale, so much by the eye. A slip of the hand, the wrong end of the rule, a forgotten hour, is found and named."
        ]
      },
      {
        "heading": "The finished figure"
      },
      {
        "paragraph": [
          {
            "label": "The figure (chart)"
          },
          " draws it: as it stands on the brass, or as the square of the old books, calculated or as you read it. ",
          {
            "label": "Save the drawing"
          },
          " makes a file for print. ",
          {
            "label": "Keep this case"
          },
          ", in ",
          {
            "label": "The casebook"
          },
          ", keeps moment, readings and note on this machine."
        ]
      }
    ],
    "name": "first-figure",
    "title": "A first figure"
  },
  {
    "blocks": [
      {
        "paragraph": [
          "You teach, and your pupils have instruments of different makes. You want a sheet for each of them for next week, a key that lets you mark thirty sheets in an evening, and to know afterwards what to explain again."
        ]
      },
      {
        "heading": "Showing it in the room"
      },
      {
        "paragraph": [
          "Press ",
          {
            "label": "Show to a class"
          },
          " beside the steps: the instrument fills the screen, one sentence at a time. The arrow keys, or the buttons of a presenter, go on and back; Escape ends it."
        ]
      },
      {
        "heading": "A worked example for everyone"
      },
      {
        "paragraph": [
          "Under ",
          {
            "label": "Teaching"
          },
          " stands ",
          {
            "label": "A worked example"
          },
          " of whatever is worked above: the sum, each step with the instrument as it then stands, the readings, and why they differ. Choose the paper and press ",
          {
            "label": "Make the handout"
          },
          ". It is printed in black."
        ]
      },
      {
        "heading": "Exercises"
      },
      {
        "steps": [
          [
            "Write the head of the sheets, the town and the year."
          ],
          [
            "Give each pupil a line: a name, an instrument, a level. A new class begins with the rising sign; cusps and awkward cases come later. ",
            {
              "label": "An invented class"
            },
            " fills the lines for a trial."
          ],
          [
            "Press ",
            {
              "label": "Draw the exercises"
            },
            ". You get a sheet for each pupil, the key, and a file called exercises.json, by which the program knows the questions again. Keep it."
          ]
        ]
      },
      {
        "paragraph": [
          "Where the page is served by the program, ",
          {
            "label": "Keep the class"
          },
          " keeps it; ",
          {
            "label": "Classes"
          },
          " then gives sheets out, marks answers, and says what to teach next."
        ]
      },
      {
        "paragraph": [
          "The dates are spread over the year and the hours over the day. No question is asked that an instrument answers badly; where a town lies too far from a plate, another is drawn. The same number under ",
          {
            "label": "Seed"
          },
          " draws the same sheets again."
        ]
      },
      {
        "heading": "Correcting"
      },
      {
        "paragraph": [
          "With one pupil's answers in hand, open ",
          {
            "label": "Correct by the exercises"
          },
          ", take the exercises.json, the name and the question, and write in what was read. Each reading is right within what that instrument can show; or follows rightly from an earlier slip; or is a rough hand's; or is not right, and then the likeliest slips are named."
        ]
      },
      {
        "paragraph": [
          "For a single case ",
          {
            "label": "Correcting a pupil’s readings"
          },
          " does the same with whatever stands in the line at the top."
        ]
      },
      {
        "heading": "Pages for the pupils"
      },
      {
        "paragraph": [
          "Pupils who have no paper, or are elsewhere, work the sheet in a browser, without a network. Under ",
          {
            "label": "Classes"
          },
          " open ",
          {
            "label": "Pages for the pupils, and their answers"
          },
          ", choose the page as one file (almuri.html), and press ",
          {
            "label": "One page for all"
          },
          " or ",
          {
            "label": "The page of this pupil"
          },
          ". No name goes out: each pupil has a number, and whose it is the workbench tells you alone. With ",
          {
            "label": "corrected on the"
          },
          " ",
          {
            "label": "spot"
          },
          " the page says at once what is right and what slip would explain the rest."
        ]
      },
      {
        "paragraph": [
          "Each pupil presses ",
          {
            "label": "Save the answers"
          },
          " and sends you the file. Take the files, all together, under ",
          {
            "label": "Answers that came back"
          },
          ": they are corrected and kept, and the class's table says who read what and what to teach next."
        ]
      },
      {
        "heading": "Practising alone"
      },
      {
        "paragraph": [
          {
            "label": "Try it yourself"
          },
          " draws cases for the instrument chosen above and brings back what went wrong."
        ]
      }
    ],
    "name": "class",
    "title": "A class"
  },
  {
    "blocks": [
      {
        "paragraph": [
          "You want an astrolabe for your own town: to print and fold from card this afternoon, or to have cut and engraved."
        ]
      },
      {
        "paragraph": [
          "Laser and engraving work: follow the machine's own safety rules. Wear what the work asks for; brass dust and the edges of fresh cuts are no play. Where a workshop has rules of its own, they hold."
        ]
      },
      {
        "heading": "From card, today"
      },
      {
        "steps": [
          [
            "Choose ",
            {
              "label": "class instrument"
            },
            " in the line at the top, or one that you have described."
          ],
          [
            "Open ",
            {
              "label": "The workshop"
            },
            " and write your town under ",
            {
              "label": "Plates for these towns or latitudes,"
            },
            " ",
            {
              "label": "parted by semicolons"
            },
            "."
          ],
          [
            "Tick ",
            {
              "label": "PDF, to cut and fold of card"
            },
            " and press ",
            {
              "label": "Make the files"
            },
            "."
          ],
          [
            "Print without scaling. Measure the line on the sheet that says 100 mm: if it is not, your printer has scaled it."
          ],
          [
            "Follow the first four pages: what is needed, each step in a picture, and three checks that it works. A class of ten-year-olds reads them; what an adult does has its sign."
          ]
        ]
      },
      {
        "heading": "From brass or plywood"
      },
      {
        "paragraph": [
          {
            "label": "SVG, for cutters"
          },
          " and ",
          {
            "label": "DXF, for machines"
          },
          " have every part at its true size, each kind of work in a layer and a colour of its own: what is scored, engraved along lines, engraved within outlines, drilled, cut inside, cut outside last. Before you order, look at each part: ",
          {
            "label": "True size"
          },
          " shows it as large as it will be, and below it stands what this size leaves out and by which word of the description it is overruled."
        ]
      },
      {
        "paragraph": [
          "The files come with a sheet that names every part, the thickness it is made of, and how they lie on one another. What the saw or the beam takes away is allowed for if you say how broad it is (kerf_mm in the description). Tabs that hold a part in its sheet, corners opened for a milling cutter, and all parts laid on the sheets that you have are made in a terminal, by almuri make and almuri nest. A trial in card costs nothing; make one first."
        ]
      },
      {
        "heading": "Which plates"
      },
      {
        "paragraph": [
          {
            "label": "Which plate for which town"
          },
          " finds the fewest plates that keep a list of towns within the error you allow. It can print a card for each town, with the correction to lay beside the brass."
        ]
      },
      {
        "heading": "Your own design"
      },
      {
        "steps": [
          [
            "Open ",
            {
              "label": "A specification, by its fields"
            },
            " in ",
            {
              "label": "The workshop"
            },
            ". It begins with the instrument in hand; ",
            {
              "label": "Begin from"
            },
            " takes another of the cabinet."
          ],
          [
            "Choose size, latitudes, stars, tracery, throne, words of your own. The drawing beside the fields follows, front and back."
          ],
          [
            "What cannot be is told at its field, with what would do. What you leave alone is as usual for the size."
          ],
          [
            "Press ",
            {
              "label": "Keep it in the cabinet"
            },
            ": from then on it is set, read and explained like any other. Below, its parts and files are made as told above."
          ]
        ]
      },
      {
        "paragraph": [
          "The same stands beside it as a small text, for whoever would rather write it or pass it on; whichever you change, the other follows."
        ]
      }
    ],
    "name": "instrument",
    "title": "An instrument made"
  },
  {
    "blocks": [
      {
        "paragraph": [
          "An astrolabe has come to you without papers. For which latitude are its plates, for which year were its stars laid out, how true is it, and can one work with it?"
        ]
      },
      {
        "heading": "Measuring"
      },
      {
        "paragraph": [
          "Old brass is soft and its surface is what it has kept. Wear cotton gloves, lay it on felt, and do not let steel touch it where wood or a sheet of film would do. What belongs to a collection is measured by whoever keeps it, or as they say."
        ]
      },
      {
        "paragraph": [
          "You need a caliper and an hour or two. From the middle of the hole: measure to both edges of the hole and take the mean. Best are"
        ]
      },
      {
        "steps": [
          [
            "the three circles of a plate: both tropics and the equator, across;"
          ],
          [
            "on each plate, where the horizon and four or five almucantars cross the upright line, above and below;"
          ],
          [
            "the ring of the zodiac: its nearest and its farthest point from the hole;"
          ],
          [
            "a dozen star pointers: the name, the degree of the ring that lies under the rule together with the tip, and the tip's distance from the hole;"
          ],
          [
            "some dates of the calendar with the degree the alidade shows."
          ]
        ]
      },
      {
        "paragraph": [
          "Nothing of it must be there. What was not measured is not told."
        ]
      },
      {
        "paragraph": [
          "With nothing but a photograph no caliper touches the brass: open ",
          {
            "label": "From a photograph of the front or the back"
          },
          ", lay the picture in, and press where you recognise a line, a stroke or the tip of a star. What lies there is proposed beneath the picture; Enter takes it. Begin with six strokes of the limb, then the edge of the hole and the circles. Some forty marks tell an instrument, and where one more would tell most is said. The picture stays in the browser."
        ]
      },
      {
        "heading": "What is found"
      },
      {
        "paragraph": [
          "In ",
          {
            "label": "The workshop"
          },
          ", under ",
          {
            "label": "Examine an instrument"
          },
          ", press ",
          {
            "label": "An invented example"
          },
          ": a text stands there as yours will. Put your own numbers in its place and press ",
          {
            "label": "Examine it"
          },
          "."
        ]
      },
      {
        "paragraph": [
          "For each plate you are told the latitude it is drawn for, with how far that can be wrong, and whether it is what stands on it; the year for which the stars stand; the year and manner of the calendar; whether the ring and the hole lie where they should. A pointer that is bent is named and left out. The tables show each measure beside what it should be."
        ]
      },
      {
        "paragraph": [
          "The year of the stars is that of the table they were laid out by, which may be generations older than the brass."
        ]
      },
      {
        "heading": "Working with it"
      },
      {
        "paragraph": [
          {
            "label": "Look at an instrument so made"
          },
          " sets it in the line at the top, with its faults: its readings, its errors and their causes follow. ",
          {
            "label": "Save its specification"
          },
          " keeps it as a text, from which a missing plate or a new rete is made."
        ]
      },
      {
        "paragraph": [
          "The photograph itself can go along: ",
          {
            "label": "Lay it on"
          },
          " takes limb, plate, rete and rule from it onto the drawn instrument, so that what turns on the page looks like what lies on the table. Readings stay those of the drawing; beneath the instrument one chooses which of the two is seen."
        ]
      },
      {
        "heading": "A piece that was delivered, a setting that was photographed"
      },
      {
        "paragraph": [
          "Tick ",
          {
            "label": "hold it against the instrument in the line at the top"
          },
          " and examine: lengths or marks in a picture are held against what the piece was to be, with how far each is off in millimetres, and whether all are within what you allow."
        ]
      },
      {
        "paragraph": [
          "A pupil sends a picture of the front as it was set. Mark two strokes of the limb, the hole, the almuri and where the rule meets the limb, and press ",
          {
            "label": "How is it set here?"
          },
          ": you are told how rete and rule stand and what they show, and ",
          {
            "label": "Correct it"
          },
          " goes on to the slip."
        ]
      }
    ],
    "name": "old-instrument",
    "title": "An old one examined"
  },
  {
    "blocks": [
      {
        "paragraph": [
          "For an owner of an astrolabe: a booklet for one town, one instrument and one year, and the same events in the calendar of a telephone."
        ]
      },
      {
        "heading": "The booklet"
      },
      {
        "steps": [
          [
            "Set town and instrument in the line at the top."
          ],
          [
            "Open ",
            {
              "label": "Other times"
            },
            " and there ",
            {
              "label": "The year's book"
            },
            "."
          ],
          [
            "Write the year, choose the paper, and press ",
            {
              "label": "Make it"
            },
            ". A5, two on A4, to fold is printed on both sides, turned over the short edge, and folded once."
          ]
        ]
      },
      {
        "paragraph": [
          "Each month has an opening: on the left every day with its ruler, the Sun's degree as your own scale shows it and as it is, sunrise and sunset, the lengths of the unequal hours, the equation of time, and the Moon; on the right what happens, and a star to find by in the evening. At the front stand the town's correction and the plate to use."
        ]
      },
      {
        "paragraph": [
          "Never look into the Sun, and never sight him directly. For an eclipse use a filter made for it, or a pinhole."
        ]
      },
      {
        "heading": "Into a calendar"
      },
      {
        "paragraph": [
          {
            "label": "Its events into a calendar"
          },
          " saves a file (.ics, RFC 5545) that calendar programs read: lunations, ingresses, stations, eclipses, and the changes of the clock."
        ]
      },
      {
        "heading": "A time that is sought"
      },
      {
        "paragraph": [
          "To find when something holds, a rising sign, a Moon that waxes, a planet's hour, write what must be so and what had better be so into the fields of the same leaf. You are told every span of time in which it holds, to the second, and why it stands where it stands in the list. What it means is not said."
        ]
      }
    ],
    "name": "year",
    "title": "A year's calendar"
  }
];
