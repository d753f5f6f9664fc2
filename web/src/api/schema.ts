// Made by web/types.mjs from docs/design.schema.json and docs/openapi.json: do not edit.
export interface paths {
    "/api": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * About
         * @description Say what the server is, and what it takes.
         */
        get: operations["about"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/job-schema": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Job Schema
         * @description Give the JSON Schema of the job file: every table and key, with what it means.
         */
        get: operations["getJobSchema"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * List Jobs
         * @description List the jobs, the one changed last first; or those that were deleted.
         */
        get: operations["listJobs"];
        put?: never;
        /**
         * New Job
         * @description Start a job: empty, or with an example to change.
         */
        post: operations["newJob"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/import": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Import Job
         * @description Make a job of what is uploaded: a job.toml with its files, an archive of them, or site files alone.
         */
        post: operations["importJob"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Job
         * @description Give a job as it is, or as it was at a revision.
         */
        get: operations["getJob"];
        put?: never;
        post?: never;
        /**
         * Delete Job
         * @description Delete a job; restore brings it back.
         */
        delete: operations["deleteJob"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/archive.zip": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Archive
         * @description Give one archive of everything: the job file and its files, and all outputs with their manifest.
         */
        get: operations["getArchive"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/backgrounds/{path}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Background
         * @description Say what a file of the job shows under the plan, and where; or in one sentence why it does not.
         */
        get: operations["getBackground"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/catalogue": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Catalogue
         * @description Give the names that the job file may use: the shipped rows and the job's own data sheets.
         *
         *     Of a job that cannot be read, the shipped ones alone: the live answer says why, and its forms mend it.
         */
        get: operations["getCatalogue"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/changes": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Changes
         * @description List what differs between two revisions, by item and key.
         */
        get: operations["getChanges"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/copy": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Copy Job
         * @description Copy a job as it is; the copy has a history of its own.
         */
        post: operations["copyJob"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/design": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Design
         * @description Give design.json, byte for byte as the command line writes it.
         */
        get: operations["getDesign"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/edits": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Edit
         * @description Make an edit on a revision; if another window has changed the job since, the two are merged or told.
         */
        post: operations["edit"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/expected": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Expect Edit
         * @description Design ahead what an edit would give that will probably come; nobody is told, and nothing is kept.
         */
        post: operations["expectEdit"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/files": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Look At Files
         * @description Say of every file that the job holds what it can be: as the answer did when it was given.
         */
        get: operations["lookAtFiles"];
        put?: never;
        /**
         * Give Files
         * @description Give files to a job, as one revision; an `import_file` edit then makes use of them.
         */
        post: operations["giveFiles"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/files/{path}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get File
         * @description Give back a file that the job holds, as it was given.
         */
        get: operations["getFile"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/history": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get History
         * @description List every revision, the first one first.
         */
        get: operations["getHistory"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/history/{number}/name": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        /**
         * Name Revision
         * @description Give a revision a name, or take it away.
         */
        put: operations["nameRevision"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/history/{number}/return": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Return To
         * @description Bring an earlier revision back, as a new one that can be undone.
         */
        post: operations["returnTo"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/live": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Live
         * @description Follow a job: the design of its present revision, stage by stage, and of every later one.
         */
        get: operations["live"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/outputs": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * List Outputs
         * @description List every file to take away, and what could not be made, with why.
         */
        get: operations["listOutputs"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/outputs/{name}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Output
         * @description Give one file to take away; `show` lets the page show a drawing rather than keep it.
         */
        get: operations["getOutput"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/outputs/{name}/pages": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * List Pages
         * @description Say how many pages a paper has, and how large each is.
         */
        get: operations["listPages"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/outputs/{name}/pages/{number}.png": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Page Picture
         * @description Give one page of a paper, the first is 1, as a PNG picture.
         */
        get: operations["getPagePicture"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/parts/{part}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Part
         * @description Give the price, the programme or the papers of a job, where this version has that part.
         */
        get: operations["getPart"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/picture.svg": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Picture
         * @description Give a small picture of a job: its lines, gates and what lies in the way.
         */
        get: operations["getPicture"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/pictures/{path}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Plan Picture
         * @description Give a picture of the job as PNG or JPEG, north up in the job's plane, over its bounds or the part wanted.
         */
        get: operations["getPlanPicture"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/price-book": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Give Price Book
         * @description Give the job its price book, and name it in the job, as one revision.
         */
        post: operations["givePriceBook"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/price-book/{name}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Price Book
         * @description Give a price book to be filled in: what the job's own has, and an empty price for each thing that has none.
         */
        get: operations["getPriceBook"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/prices": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Prices
         * @description Give every price that the job is paid by, and what has none yet.
         */
        get: operations["getPrices"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/redo": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Redo
         * @description Go forward again to where the last undo came from.
         */
        post: operations["redo"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/restore": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Restore Job
         * @description Bring a deleted job back.
         */
        post: operations["restoreJob"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/terrain": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Terrain
         * @description Give elevations on a grid over the job's lines, for contours and shading.
         */
        get: operations["getTerrain"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/trial": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Try Edit
         * @description Show in one window's live answer what an edit would do; it is not kept.
         */
        post: operations["tryEdit"];
        /**
         * End Trial
         * @description Show the window the job itself again.
         */
        delete: operations["endTrial"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/undo": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Undo
         * @description Go back one revision.
         */
        post: operations["undo"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/api/jobs/{id}/why/{thing}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Get Why
         * @description Say why each number of a thing is what it is.
         *
         *     By name: P17, P17-2, B3, R1-2, C4, a gate, a line of the order, a sum, price:ID, programme:ID.
         */
        get: operations["getWhy"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        /**
         * About
         * @description What the server is.
         */
        About: {
            /**
             * Cautions
             * @description The usual cautions, to be shown with every design.
             */
            cautions: string[];
            /**
             * Deleted Kept Days
             * @description So long a deleted job can be brought back.
             */
            deleted_kept_days: number;
            /**
             * File Kinds
             * @description Extensions of files that a job may hold.
             */
            file_kinds: string[];
            /** Largest Upload Bytes */
            largest_upload_bytes: number;
            /**
             * Missing Parts
             * @description Parts that this version has not: `price`, `programme`, `papers`.
             */
            missing_parts: string[];
            /** Program */
            program: string;
            /**
             * Stages
             * @description Stages of a design, in order.
             */
            stages: string[];
            /** Version */
            version: string;
        };
        /**
         * AddItem
         * @description Add a row to a table: a gate, crossing, obstacle, strand, strain post, ...
         */
        AddItem: {
            /**
             * Alternative
             * @description Into this alternative instead of the job itself.
             */
            alternative?: number | string | null;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "add";
            /**
             * Table
             * @enum {string}
             */
            table: "soil_zone" | "gate" | "crossing" | "obstacle" | "strand" | "strain" | "pin" | "built" | "rock" | "size" | "reference" | "measured" | "payment" | "neighbour" | "extra" | "rate" | "alternative";
            /**
             * Values
             * @description Its keys, as the job file has them.
             */
            values: {
                [key: string]: unknown;
            };
        };
        /**
         * AddLine
         * @description Draw a new line.
         */
        AddLine: {
            /**
             * Closed
             * @default false
             */
            closed: boolean;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "add_line";
            /**
             * Name
             * @description Left out: the next free `line 2`, `line 3`, ...
             * @default
             */
            name: string;
            /** Points */
            points: [
                string | number,
                string | number
            ][];
        };
        /**
         * BackdropFeature
         * @description A point, line or outline of a site file, to be drawn under the plan.
         */
        BackdropFeature: {
            /** Closed */
            closed: boolean;
            /**
             * Geometry
             * @description `point`, `line` or `polygon`.
             */
            geometry: string;
            /** Name */
            name: string;
            /**
             * Points M
             * @description East and north in the job's plane, in turn. [m]
             */
            points_m: number[];
        };
        /**
         * BackgroundAnswer
         * @description What a file of the job can show under the plan, and where.
         */
        BackgroundAnswer: {
            /**
             * Address
             * @description Of the picture; add `west`, `south`, `east`, `north` for a finer part.
             */
            address: string;
            /**
             * Bounds M
             * @description West, south, east and north in the job's plane; empty: none. [m]
             */
            bounds_m: number[];
            /**
             * Cell M
             * @description Side of a cell of the picture itself; 0: no picture. [m]
             */
            cell_m: number;
            /** Features */
            features: components["schemas"]["BackdropFeature"][];
            /**
             * Kind
             * @enum {string}
             */
            kind: "picture" | "features" | "none";
            /**
             * Needs Unit
             * @description It can be shown once [site] file_unit is named.
             */
            needs_unit: boolean;
            /** Path */
            path: string;
            /**
             * Plane
             * @description EPSG code that the job may name as [site] crs so that the file has a place.
             */
            plane: string;
            /**
             * Sentence
             * @description Why it cannot be shown, or what to look at; empty: nothing.
             */
            sentence: string;
            /**
             * Shown Cell M
             * @description Side of a cell of the whole picture as `address` gives it. [m]
             */
            shown_cell_m: number;
        };
        /** Body_giveFiles */
        Body_giveFiles: {
            /** Files */
            files: string[];
        };
        /** Body_givePriceBook */
        Body_givePriceBook: {
            /** Files */
            files: string[];
        };
        /** Body_importJob */
        Body_importJob: {
            /** Files */
            files: string[];
        };
        /**
         * CatalogueAnswer
         * @description Names that the job file may use, for lists to pick from.
         */
        CatalogueAnswer: {
            /** Bags */
            bags: string[];
            /** Obstacles */
            obstacles: string[];
            /** Pipes */
            pipes: string[];
            /** Rails */
            rails: string[];
            /** Soils */
            soils: string[];
            /** Stock */
            stock: string[];
            /** Timbers */
            timbers: string[];
        };
        /**
         * ChangeInfo
         * @description One key that differs between two revisions.
         */
        ChangeInfo: {
            /** After */
            after: unknown;
            /** Before */
            before: unknown;
            /**
             * Item
             * @description What it is called.
             */
            item: string;
            /**
             * Key
             * @description The key; empty: the whole row.
             */
            key: string;
            /**
             * New Row
             * @description Number of the row after; null: removed, or a plain table.
             */
            new_row: number | null;
            /**
             * Row
             * @description Number of the row before; null: a new row, or a plain table.
             */
            row: number | null;
            /** Table */
            table: string;
        };
        /**
         * CloseLine
         * @description Join a line's last point to its first, or open it again.
         */
        CloseLine: {
            /**
             * Closed
             * @default true
             */
            closed: boolean;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "close_line";
            /** Line */
            line: number | string;
        };
        /**
         * CopyJob
         * @description A copy of a job.
         */
        CopyJob: {
            /**
             * Name
             * @description Left out: the old name with `copy`.
             * @default
             */
            name: string;
            /**
             * Window
             * @default
             */
            window: string;
        };
        /**
         * EditAnswer
         * @description The job after an edit.
         */
        EditAnswer: {
            /**
             * Merged
             * @description Another window had changed the job since; both edits stand.
             */
            merged: boolean;
            /**
             * Merged With
             * @description What the other window had done.
             */
            merged_with: string[];
            state: components["schemas"]["JobState"];
        };
        /**
         * EditAsked
         * @description An edit, and the revision that it was made on.
         */
        EditAsked: {
            /** Base */
            base: number;
            /** Edit */
            edit: components["schemas"]["AddLine"] | components["schemas"]["RemoveLine"] | components["schemas"]["RenameLine"] | components["schemas"]["MoveLine"] | components["schemas"]["MoveCorner"] | components["schemas"]["InsertCorner"] | components["schemas"]["RemoveCorner"] | components["schemas"]["SplitLine"] | components["schemas"]["JoinLines"] | components["schemas"]["CloseLine"] | components["schemas"]["OwnPoints"] | components["schemas"]["SetField"] | components["schemas"]["AddItem"] | components["schemas"]["RemoveItem"] | components["schemas"]["SlideItem"] | components["schemas"]["MoveObstacle"] | components["schemas"]["PinTop"] | components["schemas"]["Unpin"] | components["schemas"]["PostSet"] | components["schemas"]["MetRock"] | components["schemas"]["StrainPost"] | components["schemas"]["ImportFile"] | components["schemas"]["ReplaceText"] | components["schemas"]["Many"] | components["schemas"]["SetPrices"];
            /**
             * Window
             * @description Any text that names the window.
             * @default
             */
            window: string;
        };
        /**
         * ErrorAnswer
         * @description Every answer that is an error.
         */
        ErrorAnswer: {
            error: components["schemas"]["ErrorText"];
        };
        /**
         * ErrorText
         * @description What is wrong, in one sentence, and where.
         */
        ErrorText: {
            /**
             * Code
             * @description Stable short name: docs/web-api.md lists them.
             */
            code: string;
            /**
             * Field
             * @description Where it stands in the job file: `["gate", 0, "at"]`; empty: nowhere.
             */
            field: (string | number)[];
            /**
             * File
             * @description The file that holds it.
             * @default
             */
            file: string;
            /**
             * Head
             * @description `moved`, `clash`: the job's present revision.
             */
            head: number | null;
            /**
             * Item
             * @description The item in that file, in words.
             * @default
             */
            item: string;
            /**
             * Kept
             * @description `clash`: the revision under which the edit is kept.
             */
            kept: number | null;
            /**
             * Sentence
             * @description What is wrong and what to do, one sentence; the command line's own.
             */
            sentence: string;
        };
        /**
         * ExpectAnswer
         * @description Whether the edit can be made as far as is known, and is designed ahead; nobody is told of it.
         */
        ExpectAnswer: {
            /** Begun */
            begun: boolean;
        };
        /**
         * ExpectAsked
         * @description An edit that will probably come: what is being typed, the button that a hand is over.
         */
        ExpectAsked: {
            /** Base */
            base: number;
            /** Edit */
            edit: components["schemas"]["AddLine"] | components["schemas"]["RemoveLine"] | components["schemas"]["RenameLine"] | components["schemas"]["MoveLine"] | components["schemas"]["MoveCorner"] | components["schemas"]["InsertCorner"] | components["schemas"]["RemoveCorner"] | components["schemas"]["SplitLine"] | components["schemas"]["JoinLines"] | components["schemas"]["CloseLine"] | components["schemas"]["OwnPoints"] | components["schemas"]["SetField"] | components["schemas"]["AddItem"] | components["schemas"]["RemoveItem"] | components["schemas"]["SlideItem"] | components["schemas"]["MoveObstacle"] | components["schemas"]["PinTop"] | components["schemas"]["Unpin"] | components["schemas"]["PostSet"] | components["schemas"]["MetRock"] | components["schemas"]["StrainPost"] | components["schemas"]["ImportFile"] | components["schemas"]["ReplaceText"] | components["schemas"]["Many"] | components["schemas"]["SetPrices"];
            /** Window */
            window: string;
        };
        /**
         * FileGiven
         * @description A file that was given to a job.
         */
        FileGiven: {
            /**
             * Is Ground
             * @description It can be the job's ground.
             */
            is_ground: boolean;
            /**
             * Is Picture
             * @description It can be shown under the plan as a picture.
             * @default false
             */
            is_picture: boolean;
            /**
             * Layers
             * @description Empty for ground files and companions.
             */
            layers: components["schemas"]["LayerInfo"][];
            /** Path */
            path: string;
            /**
             * Sentence
             * @description What it is good for, where it is neither ground, picture nor features.
             * @default
             */
            sentence: string;
        };
        /**
         * FilesAnswer
         * @description The job after files were given to it.
         */
        FilesAnswer: {
            /** Given */
            given: components["schemas"]["FileGiven"][];
            state: components["schemas"]["JobState"];
        };
        /**
         * HeadEvent
         * @description Event `head`: the job is at another revision; fetch its state if this window did not make it.
         */
        HeadEvent: {
            /** Label */
            label: string;
            /** Redo */
            redo: string | null;
            /** Revision */
            revision: number;
            /** Undo */
            undo: string | null;
            /** Window */
            window: string;
        };
        /**
         * HereEvent
         * @description Event `here`: nothing has happened for a while; a stream that does not even say that has been cut.
         */
        HereEvent: Record<string, never>;
        /**
         * ImportFile
         * @description Use a file that was given to the job: as a line, as something in the way, or as its ground.
         */
        ImportFile: {
            /** Closed */
            closed?: boolean | null;
            /**
             * Feature
             * @default
             */
            feature: string;
            /** File */
            file: string;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "import_file";
            /**
             * Layer
             * @default
             */
            layer: string;
            /**
             * Name
             * @default
             */
            name: string;
            /**
             * Obstacle
             * @description Kind of obstacle, for `obstacle`.
             * @default
             */
            obstacle: string;
            /**
             * Use
             * @enum {string}
             */
            use: "line" | "obstacle" | "ground";
        };
        /**
         * InsertCorner
         * @description Put a point into a line.
         */
        InsertCorner: {
            /**
             * After
             * @description Number of the point before it; -1: it becomes the first.
             */
            after: number;
            /** At */
            at: [
                string | number,
                string | number
            ];
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "insert_corner";
            /** Line */
            line: number | string;
        };
        /**
         * JobFileInfo
         * @description A file that the job holds.
         */
        JobFileInfo: {
            /** Digest */
            digest: string;
            /** Path */
            path: string;
        };
        /**
         * JobState
         * @description A job as it is.
         */
        JobState: {
            /**
             * Asked
             * @description Its values as they stand there: text with units, numbers, flags.
             */
            asked: {
                [key: string]: unknown;
            };
            /** Files */
            files: components["schemas"]["JobFileInfo"][];
            /** Head */
            head: number;
            /** Id */
            id: string;
            /** Name */
            name: string;
            /**
             * Redo
             * @description What redo would do again; null: nothing.
             */
            redo: string | null;
            revision: components["schemas"]["RevisionInfo"];
            /**
             * Text
             * @description The job file, comments and all.
             */
            text: string;
            /**
             * Undo
             * @description What undo would undo; null: nothing.
             */
            undo: string | null;
        };
        /**
         * JobSummary
         * @description A job in the list.
         */
        JobSummary: {
            /** Changed Ms */
            changed_ms: number;
            /** Deleted Ms */
            deleted_ms: number | null;
            /**
             * Head
             * @description Its present revision.
             */
            head: number;
            /** Id */
            id: string;
            /**
             * Made Ms
             * @description Milliseconds since 1970.
             */
            made_ms: number;
            /** Name */
            name: string;
            /**
             * Picture
             * @description Address of a small picture.
             */
            picture: string;
        };
        /**
         * JoinLines
         * @description Join two open lines at their nearest ends; the first keeps its name.
         */
        JoinLines: {
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "join_lines";
            /** Line */
            line: number | string;
            /** Other */
            other: number | string;
        };
        /**
         * LayerInfo
         * @description What one layer of a site file holds.
         */
        LayerInfo: {
            /** Layer */
            layer: string;
            /** Lines */
            lines: string[];
            /**
             * Points
             * @description Names of its features, by kind.
             */
            points: string[];
            /** Polygons */
            polygons: string[];
        };
        /**
         * LeftOutInfo
         * @description What could not be made, and why.
         */
        LeftOutInfo: {
            /**
             * Sentence
             * @description Why, and what to do; the command line's own.
             */
            sentence: string;
            /**
             * What
             * @description In words: `the price and quote.pdf`.
             */
            what: string;
        };
        /**
         * LiveEvents
         * @description The events of the stream, each by its name; in the stream every one is an `event:` with its `data:`.
         */
        LiveEvents: {
            head: components["schemas"]["HeadEvent"];
            here: components["schemas"]["HereEvent"];
            refused: components["schemas"]["RefusedEvent"];
            stage: components["schemas"]["StageEvent"];
        };
        /**
         * Many
         * @description Several edits as one: all or none.
         */
        Many: {
            /** Edits */
            edits: (components["schemas"]["AddLine"] | components["schemas"]["RemoveLine"] | components["schemas"]["RenameLine"] | components["schemas"]["MoveLine"] | components["schemas"]["MoveCorner"] | components["schemas"]["InsertCorner"] | components["schemas"]["RemoveCorner"] | components["schemas"]["SplitLine"] | components["schemas"]["JoinLines"] | components["schemas"]["CloseLine"] | components["schemas"]["OwnPoints"] | components["schemas"]["SetField"] | components["schemas"]["AddItem"] | components["schemas"]["RemoveItem"] | components["schemas"]["SlideItem"] | components["schemas"]["MoveObstacle"] | components["schemas"]["PinTop"] | components["schemas"]["Unpin"] | components["schemas"]["PostSet"] | components["schemas"]["MetRock"] | components["schemas"]["StrainPost"] | components["schemas"]["ImportFile"] | components["schemas"]["ReplaceText"])[];
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "many";
            /**
             * Label
             * @default
             */
            label: string;
        };
        /**
         * MetRock
         * @description A hole that met rock.
         */
        MetRock: {
            /**
             * At
             * @description Station of the post.
             */
            at: string | number;
            /** Depth */
            depth: string | number;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "met_rock";
            /** Line */
            line: string;
        };
        /**
         * MoveAsked
         * @description Undo, redo or go back, and the revision that the window shows.
         */
        MoveAsked: {
            /** Base */
            base: number;
            /**
             * Window
             * @default
             */
            window: string;
        };
        /**
         * MoveCorner
         * @description Move one point of a line: to a place, or by so much.
         */
        MoveCorner: {
            /** By */
            by?: [
                string | number,
                string | number
            ] | null;
            /**
             * Corner
             * @description Number of the point, from 0.
             */
            corner: number;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "move_corner";
            /** Line */
            line: number | string;
            /**
             * Shared
             * @description Corners of other lines at the same place go along.
             * @default true
             */
            shared: boolean;
            /** To */
            to?: [
                string | number,
                string | number
            ] | null;
        };
        /**
         * MoveLine
         * @description Move a whole line.
         */
        MoveLine: {
            /** By */
            by: [
                string | number,
                string | number
            ];
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "move_line";
            /** Line */
            line: number | string;
        };
        /**
         * MoveObstacle
         * @description Move an obstacle, or one of its points.
         */
        MoveObstacle: {
            /**
             * By
             * @description Moves all of it.
             */
            by?: [
                string | number,
                string | number
            ] | null;
            /** Item */
            item: number | string;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "move_obstacle";
            /**
             * Point
             * @description Moves this point alone, to `to`.
             */
            point?: number | null;
            /** To */
            to?: [
                string | number,
                string | number
            ] | null;
        };
        /**
         * NameAsked
         * @description A name for a revision; empty takes it away.
         */
        NameAsked: {
            /** Name */
            name: string;
        };
        /**
         * NeededPriceInfo
         * @description One price that the job is paid by, whatever lines it pays.
         */
        NeededPriceInfo: {
            /** Date */
            date: string;
            /** High */
            high: string | null;
            /** Item */
            item: string;
            /**
             * Kind
             * @description `material`, `labour`, `plant`, `travel`, `other`.
             */
            kind: string;
            /** Low */
            low: string | null;
            /**
             * Pack
             * @description So many units are one pack. Figures are text, as they are written.
             */
            pack: string;
            /**
             * Price
             * @description Of one pack; null: nobody states it.
             */
            price: string | null;
            /**
             * Quantity
             * @description Of all lines that it pays, in `unit`.
             */
            quantity: number;
            /** Size */
            size: string;
            /** Supplier */
            supplier: string;
            /** Unit */
            unit: string;
            /**
             * Used For
             * @description What those lines are called.
             */
            used_for: string[];
            /**
             * Where
             * @description The row that states it; `the job`: an `[[extra]]`; empty: it is missing.
             */
            where: string;
            /**
             * Why
             * @description What the price book has instead, where it is missing.
             */
            why: string;
        };
        /**
         * NewJob
         * @description A new job.
         */
        NewJob: {
            /**
             * Name
             * @default New paddock
             */
            name: string;
            /**
             * Sheets
             * @default us
             * @enum {string}
             */
            sheets: "us" | "metric";
            /**
             * Start
             * @description `empty`: no line yet; `example`: a paddock.
             * @default empty
             * @enum {string}
             */
            start: "empty" | "example";
            /**
             * Window
             * @default
             */
            window: string;
        };
        /**
         * OnePrice
         * @description One price: of what, by which unit, and what it is.
         */
        OnePrice: {
            /**
             * Date
             * @description Day of the price, `2026-05-01`; empty: none.
             */
            date?: string | null;
            /**
             * High
             * @description The most.
             */
            high?: string | number | null;
            /**
             * Item
             * @description Name of what is bought, a trade, or a machine.
             */
            item: string;
            /**
             * Kind
             * @default material
             * @enum {string}
             */
            kind: "material" | "labour" | "plant" | "travel" | "other";
            /**
             * Low
             * @description The least that it may become; left out: as it stands.
             */
            low?: string | number | null;
            /**
             * Pack
             * @description So many units are one pack; left out: as it stands, else 1.
             */
            pack?: string | number | null;
            /**
             * Price
             * @description Of one pack; null or empty takes it out of the price book.
             */
            price?: string | number | null;
            /**
             * Size
             * @description Where the name alone does not tell.
             * @default
             */
            size: string;
            /** Supplier */
            supplier?: string | null;
            /**
             * Unit
             * @description `piece`, `bag`, `h`, `day`, `ft`, ...
             */
            unit: string;
        };
        /**
         * OutputInfo
         * @description One file to take away.
         */
        OutputInfo: {
            /** Media Type */
            media_type: string;
            /** Name */
            name: string;
        };
        /**
         * OutputsAnswer
         * @description What is to be taken away.
         */
        OutputsAnswer: {
            /** Files */
            files: components["schemas"]["OutputInfo"][];
            /**
             * Left Out
             * @description What is not among them.
             */
            left_out: components["schemas"]["LeftOutInfo"][];
        };
        /**
         * OwnPoints
         * @description Give a line that comes from a file points of its own, so that it can be redrawn.
         */
        OwnPoints: {
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "own_points";
            /** Line */
            line: number | string;
        };
        /**
         * PageInfo
         * @description One page of a paper.
         */
        PageInfo: {
            /**
             * Address
             * @description Of its picture, of the same revision; add `&width=` in pixels.
             */
            address: string;
            /** Height Mm */
            height_mm: number;
            /** Width Mm */
            width_mm: number;
        };
        /**
         * PagesAnswer
         * @description The pages of a paper, in order.
         */
        PagesAnswer: {
            /** Name */
            name: string;
            /** Pages */
            pages: components["schemas"]["PageInfo"][];
            /**
             * Widest Px
             * @description The widest picture that is drawn. [px]
             */
            widest_px: number;
        };
        /**
         * PinTop
         * @description Pin a post's top: by its height above ground or by its elevation.
         */
        PinTop: {
            /**
             * At
             * @description Station of the post.
             */
            at: string | number;
            /** Height */
            height?: string | number | null;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "pin_top";
            /** Line */
            line: string;
            /** Top */
            top?: string | number | null;
        };
        /**
         * PostSet
         * @description A post already set: where it really stands and how deep; what is left out stays as it was entered before.
         */
        PostSet: {
            /**
             * At
             * @description Station of the post.
             */
            at: string | number;
            /** Depth */
            depth?: string | number | null;
            /**
             * Ground
             * @description Elevation of the ground at it, as measured there.
             */
            ground?: string | number | null;
            /**
             * Height
             * @description Its cut top above ground, if it is cut already.
             */
            height?: string | number | null;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "post_set";
            /** Line */
            line: string;
            /**
             * Offset
             * @description Of its centre, left of the line positive.
             */
            offset?: string | number | null;
        };
        /**
         * PricesAnswer
         * @description The prices that a job is paid by, known and missing.
         */
        PricesAnswer: {
            /**
             * Book
             * @description File that holds them; empty: the job names none.
             */
            book: string;
            /** Currency */
            currency: string;
            /**
             * Left Out
             * @description Lines that the total leaves out for want of a price.
             */
            left_out: number;
            /** Prices */
            prices: components["schemas"]["NeededPriceInfo"][];
        };
        /**
         * RefusedEvent
         * @description Event `refused`: no design is possible.
         */
        RefusedEvent: {
            error: components["schemas"]["ErrorText"];
            /**
             * Kept
             * @description Tables and columns that a page keeps: what could be told of the job. Null, of a trial or a fault of the program: all of them, which are of the design before.
             */
            kept: {
                [key: string]: string[];
            } | null;
            /** Revision */
            revision: number;
            /** Trial */
            trial: number | null;
        };
        /**
         * RemoveCorner
         * @description Take a point out of a line.
         */
        RemoveCorner: {
            /** Corner */
            corner: number;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "remove_corner";
            /** Line */
            line: number | string;
        };
        /**
         * RemoveItem
         * @description Remove a row of a table.
         */
        RemoveItem: {
            /**
             * Alternative
             * @description Out of this alternative instead of the job itself.
             */
            alternative?: number | string | null;
            /** Item */
            item: number | string;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "remove";
            /**
             * Table
             * @enum {string}
             */
            table: "soil_zone" | "gate" | "crossing" | "obstacle" | "strand" | "strain" | "pin" | "built" | "rock" | "size" | "reference" | "measured" | "payment" | "neighbour" | "extra" | "rate" | "alternative";
        };
        /**
         * RemoveLine
         * @description Remove a line and everything that stands on it.
         */
        RemoveLine: {
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "remove_line";
            /** Line */
            line: number | string;
        };
        /**
         * RenameLine
         * @description Rename a line, and whatever names it.
         */
        RenameLine: {
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "rename_line";
            /** Line */
            line: number | string;
            /** Name */
            name: string;
        };
        /**
         * ReplaceText
         * @description Replace the whole text of the job file.
         */
        ReplaceText: {
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "replace_text";
            /** Text */
            text: string;
        };
        /**
         * RevisionInfo
         * @description One accepted state of a job.
         */
        RevisionInfo: {
            /**
             * Aside
             * @description Kept beside the job: it touched what another window had changed.
             */
            aside: boolean;
            /**
             * Done
             * @description Part of the present state; false: undone, or aside.
             */
            done: boolean;
            /**
             * Label
             * @description What was done.
             */
            label: string;
            /** Made Ms */
            made_ms: number;
            /** Merged */
            merged: boolean;
            /**
             * Name
             * @description What a person called it; empty: nothing.
             */
            name: string;
            /** Number */
            number: number;
            /** Parent */
            parent: number | null;
            /**
             * Present
             * @description The job is at this revision.
             */
            present: boolean;
            /**
             * Window
             * @description Which window made it.
             */
            window: string;
        };
        /**
         * SetField
         * @description Set one key of the job file, or with null take it out, so that its default holds.
         */
        SetField: {
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "set";
            /**
             * Path
             * @description `["fence", "rails"]`, `["gate", 0, "at"]` or with its name, `["alternative", 0, "fence", "rails"]`.
             */
            path: (number | string)[];
            /**
             * Value
             * @description As the job file has it: text with a unit, number, flag, list, null.
             */
            value?: unknown;
        };
        /**
         * SetPrices
         * @description Set prices in the job's price book; where the job names none, one is begun and named.
         */
        SetPrices: {
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "prices";
            /** Prices */
            prices: components["schemas"]["OnePrice"][];
        };
        /**
         * SlideItem
         * @description Move a gate, crossing or mark along its line, or onto another: to a station, or by so much.
         */
        SlideItem: {
            /**
             * At
             * @description Its new station.
             */
            at?: string | number | null;
            /**
             * By
             * @description How much further along; back where it is negative.
             */
            by?: string | number | null;
            /** Item */
            item: number | string;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "slide";
            /**
             * Line
             * @description Another line; left out: the same.
             * @default
             */
            line: string;
            /**
             * Table
             * @enum {string}
             */
            table: "gate" | "crossing" | "strain" | "pin" | "built" | "rock" | "size";
        };
        /**
         * Splice
         * @description How a column changes: `remove` values from `start` on give way to `values`; then `changed` stands in `rows`.
         */
        Splice: {
            /**
             * Changed
             * @description Their values.
             * @default []
             */
            changed: unknown[];
            /** Remove */
            remove: number;
            /**
             * Rows
             * @description Single rows that change too; not there where none does.
             * @default []
             */
            rows: number[];
            /** Start */
            start: number;
            /** Values */
            values: unknown[];
        };
        /**
         * SplitLine
         * @description Divide a line at one of its points; a closed one is opened there.
         */
        SplitLine: {
            /** Corner */
            corner: number;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "split_line";
            /** Line */
            line: number | string;
            /**
             * Name
             * @description Of the second part; left out: the next free name.
             * @default
             */
            name: string;
        };
        /**
         * StageEvent
         * @description Event `stage`: what one stage of the design gave, as changes to what this stream has sent before.
         */
        StageEvent: {
            /**
             * Elapsed Ms
             * @description Since the design was begun.
             */
            elapsed_ms: number;
            /**
             * Pending
             * @description Stages still to come.
             */
            pending: string[];
            /**
             * Revision
             * @description The revision that it answers; drop it if a newer one is shown.
             */
            revision: number;
            /**
             * Stage
             * @description `site`, then the stages of a design; `design` is the last.
             */
            stage: string;
            /**
             * Tables
             * @description By the names and columns of design.json; `drawn`, `obstacles` and `ground` are the stream's own.
             */
            tables: {
                [key: string]: components["schemas"]["TableChange"];
            };
            /**
             * Trial
             * @description The trial that it answers; null: the job itself.
             */
            trial: number | null;
            /**
             * Values
             * @description `findings` as far as known; with `design` also `digest`, `may_be_built`, `summary`, `certificate`, `plane`, `crs`, `job`, as design.json has them.
             */
            values: {
                [key: string]: unknown;
            };
        };
        /**
         * StrainPost
         * @description Let the rail end both ways at a station.
         */
        StrainPost: {
            /**
             * At
             * @description Station of the post.
             */
            at: string | number;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "strain_post";
            /** Line */
            line: string;
        };
        /**
         * TableChange
         * @description How a table changes; a column that then has not `rows` values is stale until a later stage sends it.
         */
        TableChange: {
            /** Columns */
            columns: {
                [key: string]: components["schemas"]["Splice"];
            };
            /** Rows */
            rows: number;
        };
        /**
         * TerrainAnswer
         * @description Elevations on a grid over the job, for contours and shading.
         */
        TerrainAnswer: {
            /** Columns */
            columns: number;
            /**
             * Elevation M
             * @description Row by row, west to east; null: not known. [m]
             */
            elevation_m: (number | null)[];
            /** Rows */
            rows: number;
            /** Source */
            source: string;
            /** Step M */
            step_m: number;
            /**
             * X M
             * @description Of the first column. [m]
             */
            x_m: number;
            /**
             * Y M
             * @description Of the first row, the southernmost. [m]
             */
            y_m: number;
        };
        /**
         * TrialAnswer
         * @description The trial was taken; its answer comes in the live stream.
         */
        TrialAnswer: {
            /** Trial */
            trial: number;
        };
        /**
         * TrialAsked
         * @description An edit to be shown in the live answer of one window, and not kept: what a hand drags.
         */
        TrialAsked: {
            /** Base */
            base: number;
            /** Edit */
            edit: components["schemas"]["AddLine"] | components["schemas"]["RemoveLine"] | components["schemas"]["RenameLine"] | components["schemas"]["MoveLine"] | components["schemas"]["MoveCorner"] | components["schemas"]["InsertCorner"] | components["schemas"]["RemoveCorner"] | components["schemas"]["SplitLine"] | components["schemas"]["JoinLines"] | components["schemas"]["CloseLine"] | components["schemas"]["OwnPoints"] | components["schemas"]["SetField"] | components["schemas"]["AddItem"] | components["schemas"]["RemoveItem"] | components["schemas"]["SlideItem"] | components["schemas"]["MoveObstacle"] | components["schemas"]["PinTop"] | components["schemas"]["Unpin"] | components["schemas"]["PostSet"] | components["schemas"]["MetRock"] | components["schemas"]["StrainPost"] | components["schemas"]["ImportFile"] | components["schemas"]["ReplaceText"] | components["schemas"]["Many"] | components["schemas"]["SetPrices"];
            /**
             * Trial
             * @description A number that rises; older answers are dropped.
             */
            trial: number;
            /** Window */
            window: string;
        };
        /**
         * Unpin
         * @description Let the top of a pinned post flow again.
         */
        Unpin: {
            /**
             * At
             * @description Station of the post.
             */
            at: string | number;
            /**
             * @description discriminator enum property added by openapi-typescript
             * @enum {string}
             */
            kind: "unpin";
            /** Line */
            line: string;
        };
        /**
         * WhyAnswer
         * @description Everything about one thing: a post, roll, order line, sum, line of the price, activity, ...
         */
        WhyAnswer: {
            /** Id */
            id: string;
            /** Kind */
            kind: string;
            /** Reasons */
            reasons: components["schemas"]["WhyReason"][];
            /** Where */
            where: string;
        };
        /**
         * WhyInput
         * @description One number that went into another.
         */
        WhyInput: {
            /** Name */
            name: string;
            /** Origin */
            origin: string;
            /** Symbol */
            symbol: string;
            /** Unit */
            unit: string;
            /** Value */
            value: number | string | (number | null)[] | null;
        };
        /**
         * WhyReason
         * @description Why one number is what it is.
         */
        WhyReason: {
            /**
             * Clause
             * @default
             */
            clause: string;
            /** Inputs */
            inputs: components["schemas"]["WhyInput"][];
            /** Name */
            name: string;
            /**
             * Next Smaller
             * @default
             */
            next_smaller: string;
            /** Result */
            result: number | string | (number | null)[] | null;
            /** Says */
            says: string;
            /** Source */
            source: string;
            /**
             * Source Text
             * @default
             */
            source_text: string;
            /** Symbols */
            symbols: string;
            /** Unit */
            unit: string;
            /** Words */
            words: string;
        };
        /**
         * design.json of fencewright
         * @description Lengths in metres, forces in newtons, angles in radians; null: not known.
         */
        DesignFile: {
            braces: {
                /** @description Bags of concrete, exact, waste left out. [bags] */
                bags: number | null;
                /** @description Concrete of its footing. [m3] */
                concrete_m3: number | null;
                /** @description Height on the post where it meets it. [m] */
                contact_m: number | null;
                /** @description Slope of the brace, to which its ends are sawn; 0 for a horizontal one. [rad] */
                cut_rad: number | null;
                /** @description Force along the brace that the joint of brace and post must carry. [N] */
                fastener_n: number | null;
                /** @description Depth of its footing's hole. [m] */
                hole_depth_m: number | null;
                /** @description Diameter of its footing's hole; null for a horizontal brace. [m] */
                hole_diameter_m: number | null;
                /** @description Name of the brace. */
                id: string;
                /**
                 * @description Diagonal to a footing, or horizontal to a second upright.
                 * @enum {string}
                 */
                kind: "diagonal" | "horizontal";
                /** @description By which the top of its post is set away from the pull. [m] */
                lean_m: number | null;
                /** @description Least depth of the footing that still passes; null: none or no hole. [m] */
                least_hole_depth_m: number | null;
                /** @description Of the brace itself. [m] */
                length_m: number | null;
                /** @description Post that it props. */
                post: string;
                /** @description Foot from the post's centre, in plan. [m] */
                reach_m: number | null;
                /** @description Second upright of a horizontal brace; empty for a diagonal. */
                second_post: string;
                /** @description Largest demand over capacity of the brace and its footing. [-] */
                utilisation: number | null;
                /** @description Foot, or second upright. [m] */
                x_m: number | null;
                /** @description Foot, or second upright. [m] */
                y_m: number | null;
            }[];
            certificate: {
                rolls: {
                    /** @description No cut list costs less. [m of rail] */
                    bound_m: number | null;
                    /** @description Cost of the cut lists, a splice counting as rail. [m of rail] */
                    cost_m: number | null;
                    /** @description Their difference, as a part of the cost. [-] */
                    gap: number | null;
                    /** @description Whether the least cost is proven. */
                    proven: boolean;
                };
                top_line: {
                    /** @description Whether the gap asked for was reached. */
                    converged: boolean;
                    /** @description Objective less its lower bound, as a part of it. [-] */
                    gap: number | null;
                    /** @description Iterations used. */
                    iterations: number;
                    /** @description No line costs less. [m2] */
                    lower_bound_m2: number | null;
                    /** @description Of the convex program. [m2] */
                    objective_m2: number | null;
                    /** @description What is certified. */
                    of: string;
                    /** @description Furthest that an unknown would still move. [m] */
                    residual_m: number | null;
                };
            };
            checks: {
                /** @description Brace that is checked; empty where the check is the post's own. */
                brace: string;
                /** @description What it carries; null: without limit. [unit] */
                capacity: number | null;
                /** @description Load case that governs it. */
                case: string;
                /**
                 * @description What is checked.
                 * @enum {string}
                 */
                check: "bending" | "shear" | "embedment" | "uplift" | "bearing" | "frost" | "brace compression" | "footing sideways" | "footing bearing" | "footing tipping" | "tie" | "lean" | "embedment, Broms" | "uplift, shaft" | "uplift, cylinder" | "uplift, cone" | "uplift, ledge";
                /** @description Clause, table or equation there. */
                clause: string;
                /** @description False: a second opinion, frost or lean, which the post's utilisation leaves out. */
                counted: boolean;
                /** @description What is asked of it. [unit] */
                demand: number | null;
                /**
                 * @description Part that is checked.
                 * @enum {string}
                 */
                part: "post" | "hole" | "brace" | "brace footing";
                /** @description Post that is checked, or that the brace props. */
                post: string;
                /** @description Publication, by its key in the register. */
                source: string;
                /**
                 * @description Unit of demand and capacity.
                 * @enum {string}
                 */
                unit: "N m" | "N" | "m";
                /** @description Demand over capacity; null: no capacity at all. [-] */
                utilisation: number | null;
            }[];
            crossings: {
                /** @description Nearer post. */
                from_post: string;
                /** @description Line in which it stands. */
                line: string;
                /** @description Name of the gate. */
                name: string;
                /** @description Between post faces. [m] */
                opening_m: number | null;
                /** @description Station of the centre of its nearer post. [m] */
                station_m: number | null;
                /** @description Farther post. */
                to_post: string;
            }[];
            /** @description Coordinate system of the plane: an EPSG code, PROJ or WKT text, or `local`. */
            crs: string;
            /** @description SHA-256 of the file without the line of `digest`. */
            digest: string;
            findings: {
                /** @description Stable short name. */
                code: string;
                /** @description Changes to the job that mend it. */
                edits: Record<string, never>[];
                /**
                 * @description stop: cannot be built as asked; caution: look; note.
                 * @enum {string}
                 */
                level: "stop" | "caution" | "note";
                /** @description What is wrong and by how much. */
                message: string;
                /** @description What would mend it; empty where nothing is to be done. */
                remedy: string;
                where: {
                    /** @description Its name; empty for the whole job. */
                    id: string;
                    /** @description Kind of thing: job, line, post, span, gate, obstacle, ground, pull, roll, order, ... */
                    kind: string;
                    /** @description Name of the line; empty where none. */
                    line: string;
                    /** @description Station along it; null where none. [m] */
                    station_m: number | null;
                };
            }[];
            /** @constant */
            format: "fencewright design 1";
            gates: {
                /** @description Nearer post. */
                from_post: string;
                /** @description Post that carries the leaf. */
                hinge_post: string;
                /** @description Length of the leaf. [m] */
                leaf_m: number | null;
                /** @description Line in which it stands. */
                line: string;
                /** @description Name of the gate. */
                name: string;
                /** @description Between post faces. [m] */
                opening_m: number | null;
                /** @description Station of the centre of its nearer post. [m] */
                station_m: number | null;
                /**
                 * @description Side to which the leaf swings.
                 * @enum {string}
                 */
                swing: "left" | "right" | "both" | "none";
                /** @description Farther post. */
                to_post: string;
            }[];
            job: {
                /** @description Who builds it. */
                builder: string;
                /** @description Who it is for. */
                client: string;
                /** @description Name of the job. */
                name: string;
                /** @description Where it is. */
                place: string;
                /** @description Revision printed on every sheet. */
                revision: string;
                /**
                 * @description Units of the sheets.
                 * @enum {string}
                 */
                sheets: "us" | "metric";
                /** @description SHA-256 of the job file's text. */
                text_sha256: string;
            };
            lines: {
                /** @description Whether its last point joins its first. */
                closed: boolean;
                /** @description Plan length, gates included. [m] */
                length_m: number | null;
                /** @description Name of the line in the job. */
                name: string;
                /** @description Centres of its fixed posts, x and y in the plane. [m] */
                points_m: number[][];
                /**
                 * @description Side of the line posts that carries the rail, seen along the line.
                 * @enum {string}
                 */
                rail_side: "left" | "right" | "both" | "none";
                /** @description Their stations; a closed line has its length as one more. [m] */
                station_m: (number | null)[];
                /**
                 * @description Side on which the animals stand.
                 * @enum {string}
                 */
                stock_side: "left" | "right" | "both" | "none";
            }[];
            load: {
                /** @description Things whose mass is not known. */
                left_out: string[];
                /** @description Loads in the order of work. */
                loads: {
                    /** @description What goes on it. */
                    items: {
                        /** @description How many, in `unit`. [-] */
                        count: number | null;
                        /** @description What it is. */
                        item: string;
                        /** @description Mass of one; null: not known. [kg] */
                        mass_each_kg: number | null;
                        /** @description Mass of all; null: not known. [kg] */
                        mass_kg: number | null;
                        /** @description Line of the order (`id`); empty for what lies in the yard. */
                        order: string;
                        /** @description Its size in the units of the sheets. */
                        size: string;
                        /**
                         * @description Step of the work that it is for.
                         * @enum {string}
                         */
                        step: "ends and corners" | "line posts" | "rails" | "gates";
                        /** @description What is counted. */
                        unit: string;
                        /** @description Solid volume of all; null: not known. [m3] */
                        volume_m3: number | null;
                        /** @description How the mass is known; empty where it is not. */
                        weighed_by: string;
                    }[];
                    /** @description Of all whose mass is known. [kg] */
                    mass_kg: number | null;
                    /** @description Load, in the order of work; 1 is the first. */
                    number: number;
                    /** @description True where one thing alone is heavier than the payload. */
                    over_payload: boolean;
                    /** @description Rows whose mass is not known and not in `mass_kg`. */
                    unknown_items: number;
                    /** @description Of all whose volume is known. [m3] */
                    volume_m3: number | null;
                }[];
                /** @description Of all loads, what is not known left out. [kg] */
                mass_kg: number | null;
                /** @description What the truck may carry. [kg] */
                payload_kg: number | null;
                /** @description Of all loads, what is not known left out. [m3] */
                volume_m3: number | null;
            };
            /** @description False: a stop finding forbids it. */
            may_be_built: boolean;
            measured: {
                /** @description Who measured. */
                by: string;
                /** @description What the design says. [m, N] */
                designed: number | null;
                /** @description Measured less designed. [m, N] */
                difference: number | null;
                /** @description Whether it lies between them. */
                in_tolerance: boolean;
                /**
                 * @description Kind of quantity: metres or newtons.
                 * @enum {string}
                 */
                kind: "length" | "force";
                /** @description Least that is in tolerance; null without limit. [m, N] */
                least: number | null;
                /** @description Its line. */
                line: string;
                /** @description What was found. [m, N] */
                measured: number | null;
                /** @description Most that is in tolerance; null without limit. [m, N] */
                most: number | null;
                /** @description Post that was measured; empty where a pull as a whole was. */
                post: string;
                /** @description Pull that was measured; empty where none. */
                pull: string;
                /** @description What to do about it; empty where nothing. */
                says: string;
                /** @description Station of the post; null where none. [m] */
                station_m: number | null;
                /** @description What was measured. */
                what: string;
                /** @description Day, year-month-day. */
                when: string;
            }[];
            order: {
                /** @description Stable short name. */
                id: string;
                /** @description What to buy. */
                item: string;
                /** @description Needed by the geometry. */
                net: number | null;
                /** @description To order, whole packs. */
                order: number | null;
                /** @description Pack size. */
                pack: number | null;
                /** @description Its size, as the shop says it. */
                size: string;
                /** @description What is counted. */
                unit: string;
                /** @description Waste, apart from the net. */
                waste: number | null;
                /** @description What it is for. */
                why: string;
            }[];
            plane: {
                /** @description The plane as printed. */
                name: string;
                /** @description Metres in one unit of its system; x_m and y_m are metres all the same. [m] */
                unit_m: number | null;
            };
            posts: {
                /** @description Cut top above the ground. [m] */
                above_ground_m: number | null;
                /** @description Other lines that share it. */
                also: {
                    /** @description Another line that this post serves. */
                    line: string;
                    /** @description Station along that line. [m] */
                    station_m: number | null;
                }[];
                /** @description Bags of concrete, exact, waste left out. [bags] */
                bags: number | null;
                /**
                 * @description Side to which the sawn top falls: away from the rail.
                 * @enum {string}
                 */
                bevel_falls: "left" | "right" | "either";
                /** @description Slope of the sawn top. [rad] */
                bevel_rad: number | null;
                /** @description Concrete net of the post. [m3] */
                concrete_m3: number | null;
                /** @description True: a control post to string from. */
                control: boolean;
                /** @description False: set long, and cut to a string. */
                cut: boolean;
                /** @description To be sawn off after setting; null where set long. [m] */
                cut_m: number | null;
                /** @description Diameter of the post. [m] */
                diameter_m: number | null;
                /** @description Post below the ground. [m] */
                embedment_m: number | null;
                /**
                 * @description The check that it is of; empty where nothing is demanded.
                 * @enum {string}
                 */
                governs: "" | "bending" | "shear" | "embedment" | "uplift" | "bearing" | "frost" | "brace compression" | "footing sideways" | "footing bearing" | "footing tipping" | "tie" | "lean" | "embedment, Broms" | "uplift, shaft" | "uplift, cylinder" | "uplift, cone" | "uplift, ledge";
                /** @description Elevation of the ground there. [m] */
                ground_m: number | null;
                /** @description Diameter of the hole at the bottom. [m] */
                hole_bell_m: number | null;
                /** @description Depth of the hole. [m] */
                hole_depth_m: number | null;
                /** @description Diameter of the hole at the ground. [m] */
                hole_diameter_m: number | null;
                /** @description What decided the depth. */
                hole_governs: string;
                /** @description Name of the post on every sheet. */
                id: string;
                /** @description Least depth that still passes; null where none does. [m] */
                least_hole_depth_m: number | null;
                /** @description First line in job order that it serves. */
                line: string;
                /** @description Of the top under the cold pull, towards it. [m] */
                movement_m: number | null;
                /** @description Hole centre from the string, left positive. [m] */
                offset_m: number | null;
                /**
                 * @description Face of the post that carries the rail, seen along the line.
                 * @enum {string}
                 */
                rail_face: "left" | "right" | "both";
                /** @description Centre of each rail above grade, lowest first. [m] */
                rail_marks_m: (number | null)[];
                /**
                 * @description Why it stands.
                 * @enum {string}
                 */
                role: "end" | "gate" | "corner" | "bend" | "strain" | "tee" | "crossing" | "line" | "brace";
                /**
                 * @description How it is held.
                 * @enum {string}
                 */
                set: "tamped" | "driven" | "concrete";
                /** @description Plan distance along its line. [m] */
                station_m: number | null;
                /** @description Length of post to buy; null where none is long enough. [m] */
                stock_length_m: number | null;
                /** @description Elevation of the cut top. [m] */
                top_m: number | null;
                /** @description Standard deviation of the top's height. [m] */
                top_sd_m: number | null;
                /** @description Turning of the line in plan, left positive. [rad] */
                turning_rad: number | null;
                /** @description Upward part of the rail tensions at cold pull. [N] */
                uplift_n: number | null;
                /** @description Largest demand over capacity of the post, its hole and its braces; null: no capacity at all. [-] */
                utilisation: number | null;
                /** @description Why a fixed post stands here. */
                why: string;
                /** @description Hole centre in the plane. [m] */
                x_m: number | null;
                /** @description Hole centre in the plane. [m] */
                y_m: number | null;
            }[];
            program: string;
            pulls: {
                /** @description Post where it begins. */
                from_post: string;
                /** @description Name of the pull: run and rail. */
                id: string;
                /** @description Post to post along the slope. [m] */
                length_m: number | null;
                /** @description Standard deviation of that length. [m] */
                length_sd_m: number | null;
                /** @description Line in which it is drawn. */
                line: string;
                /** @description Catalogue row of the rail. */
                product: string;
                /** @description Which rail, 1 for the lowest. */
                rail: number;
                /** @description Rail to cut, both tails included. [m] */
                rail_m: number | null;
                /** @description Run of rail. */
                run: string;
                /** @description Spare rail at each end. [m] */
                tail_m: number | null;
                /** @description Post where it ends. */
                to_post: string;
                /** @description Turning in space. [rad] */
                turning_3d_rad: number | null;
                /** @description Turning in plan, summed without sign. [rad] */
                turning_rad: number | null;
            }[];
            rolls: {
                /** @description True: a remainder in the yard; false: a new roll. */
                from_yard: boolean;
                /** @description Name of the roll. */
                id: string;
                /** @description Length of the roll. [m] */
                length_m: number | null;
                /** @description What is left in one length. [m] */
                offcut_m: number | null;
                /** @description Pieces in the order in which they come off the roll. */
                pieces: {
                    /** @description Where it begins along the pull, tails included. [m] */
                    from_m: number | null;
                    /** @description Pull that the piece is for. */
                    pull: string;
                    /** @description Rail taken off the roll, a splice's overlap included. [m] */
                    rail_m: number | null;
                    /** @description Where it ends along the pull. [m] */
                    to_m: number | null;
                }[];
                /** @description Catalogue row of the rail. */
                product: string;
                /** @description Rail taken off it. [m] */
                used_m: number | null;
            }[];
            site_checks: {
                /** @description Deflection if it does not slide; the truth lies between. [m] */
                deflection_pinned_m: number | null;
                /** @description Deflection if the rail slides freely in its brackets. [m] */
                deflection_sliding_m: number | null;
                /** @description Beats of a plucked rail. [1/s] */
                frequency_hz: number | null;
                /**
                 * @description Why there.
                 * @enum {string}
                 */
                place: "tensioner" | "middle" | "far end" | "past corner";
                /** @description The check is made in the span beyond this post, seen from the tensioner. */
                post: string;
                /** @description Lowest strand of its product in the run; strands like it share the row. */
                pull: string;
                /** @description Push at mid-span. [N] */
                push_n: number | null;
                /** @description Temperature of the rail. [C] */
                rail_temperature_c: number | null;
                /** @description Span that is pushed or plucked. [m] */
                span_m: number | null;
                /** @description Tension that belongs there. [N] */
                tension_n: number | null;
            }[];
            spans: {
                /** @description Post where it begins, in the order in which the rail is drawn. */
                from_post: string;
                /** @description Its standard deviation. [m] */
                gap_sd_m: number | null;
                /**
                 * @description What stands there.
                 * @enum {string}
                 */
                kind: "fence" | "gate" | "crossing";
                /** @description Plan distance of the hole centres. [m] */
                length_m: number | null;
                /** @description Line of the span. */
                line: string;
                /** @description Least gap under the lowest rail; null where no fence. [m] */
                lowest_gap_m: number | null;
                /** @description Run of rail that it belongs to; empty where no rail. */
                run: string;
                /** @description Along the ground's chord. [m] */
                slope_length_m: number | null;
                /** @description Post where it ends. */
                to_post: string;
            }[];
            stake_out: {
                /** @description What proves each corner's angle. */
                corner_checks: {
                    /** @description Measured from the corner along the leg after. [m] */
                    ahead_m: number | null;
                    /** @description Measured from the corner along the leg before. [m] */
                    back_m: number | null;
                    /** @description Between those two points, level. [m] */
                    closing_m: number | null;
                    /** @description Angle between the two legs. [rad] */
                    corner_rad: number | null;
                    /** @description Standard deviation of the angle so proven, from the tape's error. [rad] */
                    corner_sd_rad: number | null;
                    /** @description By which the leg after is then off at its end. [m] */
                    leg_error_m: number | null;
                    /** @description Its line. */
                    line: string;
                    /** @description Post at the corner; empty where none stands there. */
                    post: string;
                    /** @description A 3-4-5 corner. */
                    right_angle: boolean;
                    /** @description Its station. [m] */
                    station_m: number | null;
                }[];
                /** @description Diagonals of each closed line of four corners. */
                diagonals: {
                    /** @description One corner; empty where no post stands there. */
                    from_post: string;
                    /** @description Station of the one. [m] */
                    from_station_m: number | null;
                    /** @description Level, between the corners' centres. [m] */
                    length_m: number | null;
                    /** @description A closed line of four corners. */
                    line: string;
                    /** @description Tape from ground to ground. [m] */
                    slope_length_m: number | null;
                    /** @description The corner across; empty where no post stands there. */
                    to_post: string;
                    /** @description Station of the other. [m] */
                    to_station_m: number | null;
                }[];
                /** @description String-line pegs past corners and ends. */
                pegs: {
                    /**
                     * @description Past the leg's far end, or before its near one.
                     * @enum {string}
                     */
                    beyond: "ahead" | "back";
                    /** @description Distance past the corner or end. [m] */
                    beyond_m: number | null;
                    /** @description False: no place near it is clear; do not drive it. */
                    clear: boolean;
                    /** @description Its line. */
                    line: string;
                    /** @description Off its usual distance to keep clear of what lies in the way. */
                    moved: boolean;
                    /** @description Corner or end beyond which the peg stands; empty where no post stands there. */
                    post: string;
                    /** @description Station of the corner or end. [m] */
                    station_m: number | null;
                    /** @description String left of the line through the fixed posts' centres. [m] */
                    string_left_m: number | null;
                    /** @description Peg, on the string's extension, in the plane. [m] */
                    x_m: number | null;
                    /** @description Peg, on the string's extension, in the plane. [m] */
                    y_m: number | null;
                }[];
                /** @description Points that ties start from; empty: none given. */
                references: {
                    /** @description Its elevation, as stated or of the ground; null: not known. [m] */
                    ground_m: number | null;
                    /** @description Name of the reference point. */
                    name: string;
                    /** @description Its place in the plane. [m] */
                    x_m: number | null;
                    /** @description Its place in the plane. [m] */
                    y_m: number | null;
                }[];
                /** @description One row a post, then one a brace's foot. */
                stakes: {
                    /** @description Level from the stake before; null at the first of an open line. [m] */
                    from_previous_m: number | null;
                    /** @description Post or brace; a brace's row is its foot. */
                    id: string;
                    /** @description Hole's centre left of the drawn line. [m] */
                    left_of_line_m: number | null;
                    /** @description Hole's centre left of the string at the rail's face. [m] */
                    left_of_string_m: number | null;
                    /** @description Line of the stake. */
                    line: string;
                    /** @description Direction of the longer axis, anticlockwise from east. [rad] */
                    major_heading_rad: number | null;
                    /** @description Longer half axis of its error ellipse. [m] */
                    major_sd_m: number | null;
                    /** @description Shorter half axis. [m] */
                    minor_sd_m: number | null;
                    /** @description Standard deviation of a stake set by its ties; null without end. [m] */
                    position_sd_m: number | null;
                    /** @description The post itself, or the post that the brace holds. */
                    post: string;
                    /** @description The same on the slope. [m] */
                    slope_from_previous_m: number | null;
                    /** @description Running chainage of a tape laid on the ground from station 0. [m] */
                    slope_station_m: number | null;
                    /** @description Running chainage on plan. [m] */
                    station_m: number | null;
                    /** @description Angle at which the two ties cross at the stake. [rad] */
                    tie_angle_rad: number | null;
                    /**
                     * @description Side on which the stake lies, going from the first reference to the second.
                     * @enum {string}
                     */
                    tie_side: "left" | "right" | "none";
                    /**
                     * @description Whether the ties cross well: not under sharp, flat or too long ones.
                     * @enum {string}
                     */
                    tie_state: "none" | "good" | "too sharp" | "too flat" | "too long";
                    /** @description The two ties; empty without reference points. */
                    ties: {
                        /** @description Tape held level. [m] */
                        level_m: number | null;
                        /** @description Reference point that the tape starts from. */
                        reference: string;
                        /** @description Tape from point to point on the slope; null: a height is not known. [m] */
                        slope_m: number | null;
                    }[];
                    /** @description Centre of the hole, in the plane. [m] */
                    x_m: number | null;
                    /** @description Centre of the hole, in the plane. [m] */
                    y_m: number | null;
                }[];
            };
            summary: {
                /** @description Bags of concrete, exact, waste left out. [bags] */
                bags: number | null;
                /** @description Braces. */
                braces: number;
                /** @description Checks of a huge fence that are made and do not stand in `checks`. */
                checks_left_out: number;
                /** @description Concrete, net of the posts. [m3] */
                concrete_m3: number | null;
                /** @description Plan length of all lines, gates included. [m] */
                fence_length_m: number | null;
                /** @description Posts by role. */
                posts: {
                    bend: number;
                    brace: number;
                    corner: number;
                    crossing: number;
                    end: number;
                    gate: number;
                    line: number;
                    strain: number;
                    tee: number;
                };
                /** @description Pulls. */
                pulls: number;
                /** @description Rail along the slope, tails included. [m] */
                rail_length_m: number | null;
                /** @description Rolls used, new and from the yard. */
                rolls: number;
                /** @description Of them from the yard. */
                rolls_from_yard: number;
                /** @description Splices. */
                splices: number;
            };
            tension: {
                /** @description Post at the other end; it has a tensioner too where drawn from both. */
                anchor_post: string;
                /** @description Tension to pull to by the rail's temperature that day. */
                chart: {
                    /** @description Temperature of the rail while it is pulled. [C] */
                    rail_temperature_c: number | null;
                    /** @description Tension of one rail to pull to; null on a day when it may not be pulled. [N] */
                    tension_n: number | null;
                    /** @description Least and most on that day; the least above the most: no tension will do. [N] */
                    window_n: (number | null)[];
                }[];
                /** @description Tension on the coldest day. [N] */
                cold_n: number | null;
                /**
                 * @description End or ends of the pull that have a tensioner.
                 * @enum {string}
                 */
                drawn_from: "first post" | "last post" | "both";
                /** @description Yield of both ends. [m] */
                end_yield_m: number | null;
                /** @description Rail that the re-grips use up. [m] */
                extra_rail_m: number | null;
                /** @description Part of the tension that reaches the loosest span once worked. [-] */
                far_share: number | null;
                /**
                 * @description What the most follows from.
                 * @enum {string}
                 */
                governs_high: "breaking share" | "cold allowed" | "ends" | "corners";
                /**
                 * @description What the least follows from.
                 * @enum {string}
                 */
                governs_low: "sag";
                /** @description Tension on the hottest day. [N] */
                hot_n: number | null;
                /** @description Post at the beginning of the loosest span. */
                loosest_post: string;
                /** @description Length between two marks on the rail that a person watches. [m] */
                marked_m: number | null;
                /** @description By how much those marks move apart. [m] */
                marked_stretch_m: number | null;
                /** @description Pull; one row each. Strands of one product in one run are alike. */
                pull: string;
                /** @description Rail temperature of the set tension. [C] */
                reference_temperature_c: number | null;
                /** @description Times that the rail is gripped anew because the spool is full. */
                regrips: number;
                /** @description Days after which to pull again. [days] */
                repull_days: number | null;
                /** @description Tension lost by then, to creep and settling posts. [N] */
                repull_loss_n: number | null;
                /** @description Rail to take in then. [m] */
                repull_m: number | null;
                /** @description Deepest sag on the hottest day. [m] */
                sag_hot_m: number | null;
                /** @description Of one rail, at the tensioner, at the reference temperature. [N] */
                set_tension_n: number | null;
                /** @description Slack taken up. [m] */
                slack_m: number | null;
                /** @description Stretch of the rail. [m] */
                stretch_m: number | null;
                /** @description Their sum: rail that goes on the spool. [m] */
                take_up_m: number | null;
                /** @description Tension along the pull, three equally long lists. */
                tension_at_posts_n: {
                    /** @description The same once the rail is worked round its corners. [N] */
                    after_working: (number | null)[];
                    /** @description Posts of the pull, first to last. */
                    post: string[];
                    /** @description Tension beyond each of them while the rail is drawn. [N] */
                    while_pulling: (number | null)[];
                };
                /** @description Post that carries the tensioner. */
                tensioner_post: string;
                /** @description Turns of the tensioner's spool. [-] */
                turns: number | null;
                /** @description Least and most of it: neither slack in summer nor too tight in winter. [N] */
                window_n: (number | null)[];
                /** @description False: no tension satisfies both. */
                window_open: boolean;
            }[];
            tolerances: {
                /** @description What is measured on the finished fence. */
                what: string;
                /** @description How far it may be off; common practice. [m] */
                within_m: number | null;
            }[];
            version: string;
        };
    };
    responses: never;
    parameters: never;
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    about: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["About"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getJobSchema: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        [key: string]: unknown;
                    };
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    listJobs: {
        parameters: {
            query?: {
                deleted?: boolean;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobSummary"][];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    newJob: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["NewJob"];
            };
        };
        responses: {
            /** @description Successful Response */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobState"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    importJob: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "multipart/form-data": components["schemas"]["Body_importJob"];
            };
        };
        responses: {
            /** @description Successful Response */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobState"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getJob: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                revision?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobState"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    deleteJob: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobSummary"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getArchive: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getBackground: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                path: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BackgroundAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getCatalogue: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CatalogueAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getChanges: {
        parameters: {
            query: {
                before: number;
                after: number;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ChangeInfo"][];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    copyJob: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CopyJob"];
            };
        };
        responses: {
            /** @description Successful Response */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobState"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getDesign: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    edit: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["EditAsked"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EditAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    expectEdit: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ExpectAsked"];
            };
        };
        responses: {
            /** @description Successful Response */
            202: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ExpectAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    lookAtFiles: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FileGiven"][];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    giveFiles: {
        parameters: {
            query: {
                base: number;
                window?: string;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "multipart/form-data": components["schemas"]["Body_giveFiles"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FilesAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getFile: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                path: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getHistory: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RevisionInfo"][];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    nameRevision: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                number: number;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["NameAsked"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RevisionInfo"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    returnTo: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                number: number;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["MoveAsked"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobState"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    live: {
        parameters: {
            query?: {
                window?: string;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Server-sent events `stage`, `refused` and `head`; each one's data is the model of that name. */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LiveEvents"];
                    "text/event-stream": unknown;
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    listOutputs: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["OutputsAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getOutput: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
                show?: boolean;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    listPages: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                name: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PagesAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getPagePicture: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
                /** @description Of the picture. [px] */
                width?: number;
                /** @description As `address` gives it: it may then be kept. */
                key?: string;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                name: string;
                number: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/png": unknown;
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getPart: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
                /** @description The price without its alternatives, which take longer. */
                alone?: boolean;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                part: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        [key: string]: unknown;
                    };
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Implemented */
            501: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getPicture: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getPlanPicture: {
        parameters: {
            query?: {
                /** @description Most cells a side. */
                most?: number;
                /** @description As `address` gives it: it may then be kept. */
                key?: string;
                /** @description Edge of the part wanted. [m] */
                west?: number | null;
                /** @description Edge of the part wanted. [m] */
                south?: number | null;
                /** @description Edge of the part wanted. [m] */
                east?: number | null;
                /** @description Edge of the part wanted. [m] */
                north?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                path: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "image/jpeg": unknown;
                    "image/png": unknown;
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    givePriceBook: {
        parameters: {
            query: {
                base: number;
                window?: string;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "multipart/form-data": components["schemas"]["Body_givePriceBook"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EditAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getPriceBook: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                name: "prices.csv" | "prices.xlsx";
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getPrices: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PricesAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    redo: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["MoveAsked"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobState"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    restoreJob: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobSummary"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getTerrain: {
        parameters: {
            query?: {
                /** @description Most cells. */
                most?: number;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["TerrainAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    tryEdit: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["TrialAsked"];
            };
        };
        responses: {
            /** @description Successful Response */
            202: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["TrialAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    endTrial: {
        parameters: {
            query: {
                window: string;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["TrialAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    undo: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The job. */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["MoveAsked"];
            };
        };
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["JobState"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
    getWhy: {
        parameters: {
            query?: {
                /** @description Revision; left out: the present one. */
                at?: number | null;
            };
            header?: never;
            path: {
                /** @description The job. */
                id: string;
                thing: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Successful Response */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["WhyAnswer"];
                };
            };
            /** @description Unauthorized */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Forbidden */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Not Found */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Conflict */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Request Entity Too Large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Misdirected Request */
            421: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Unprocessable Entity */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Internal Server Error */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Service Unavailable */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
            /** @description Insufficient Storage */
            507: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ErrorAnswer"];
                };
            };
        };
    };
}
